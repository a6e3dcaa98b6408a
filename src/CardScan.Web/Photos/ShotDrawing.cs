using System.Globalization;
using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>A photo made small, with the corners of the card that were found ticked and those that are missing crossed.</summary>
internal static class ShotDrawing
{
    /// <summary>Radius of a mark, as a share of the longer side.</summary>
    private const double MarkShare = 0.055;

    /// <summary>The drawing; null where the photo shows nothing.</summary>
    public static XElement? Write(PhotoJob job)
    {
        if (job.Picture is not { } picture) return null;
        (int width, int height) = (picture.WidthPx, picture.HeightPx);
        double radius = MarkShare * Math.Max(width, height);
        return new(
            "svg", Html.Class("shot"), new XAttribute("viewBox", $"0 0 {width} {height}"), new XAttribute("role", "img"),
            new XAttribute("aria-label", Words(job)),
            new XElement(
                "image", new XAttribute("href", $"{PhotographPage.ListPath}/{job.Id}/small.jpg"), At("width", width), At("height", height)),
            job.Corners.Select(corner => Mark(
                corner, Inside(corner.X * width, radius, width), Inside(corner.Y * height, radius, height), radius)));
    }

    private static string Words(PhotoJob job) => Voice.Say(
        "web.photo.picture", ("corners", job.Corners.Count), ("found", job.Corners.Count(corner => corner.IsFound)));

    private static XElement Mark(CardCorner corner, double x, double y, double radius)
    {
        string line = corner.IsFound ? "M-.5 0L-.15 .4L.5 -.4" : "M-.4 -.4L.4 .4M.4 -.4L-.4 .4";
        return new(
            "g", Html.Class(corner.IsFound ? "found" : "missing"),
            new XAttribute("transform", $"translate({Text(x)} {Text(y)}) scale({Text(radius)})"),
            new XElement("circle", new XAttribute("r", 1)), new XElement("path", new XAttribute("d", line)));
    }

    /// <summary>What is outside the picture is marked at its edge.</summary>
    private static double Inside(double value, double radius, double size) => Math.Clamp(value, radius, Math.Max(radius, size - radius));

    private static XAttribute At(string name, double value) => new(name, Text(value));

    private static string Text(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
