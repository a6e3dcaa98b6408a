using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How good the photos were.</summary>
internal static class QualitySection
{
    private static readonly string[] Headings =
        ["Photo", "Light", "Size, px", "Scale, px/mm", "Tilt, degrees", "Marker residual (RMS), px", "Marker residual on the card, mm", "Sharpness across x, across y (MTF50), cycles/mm", "Noise, %", "Light, brightest over darkest", "Glare, shadow between the cells, %"];

    public static XElement Write(Reading reading)
    {
        if (reading.Photos.Count == 0)
            return Html.Section("quality", "Quality of the photo", Html.Paragraph("This reading names no photo."));

        return Html.Section(
            "quality", reading.Photos.Count == 1 ? "Quality of the photo" : "Quality of the photos",
            Html.Scroller(
                "Table of the photos", fits: false,
                new XElement(
                    "table",
                    Html.Class("quality"),
                    new XElement("thead", new XElement("tr", Headings.Select(text => Html.Heading("col", text)))),
                    new XElement("tbody", reading.Photos.Select(Row)))),
            reading.Photos.Select(photo => Frame(photo, reading.Photos.Count > 1)),
            ScaleError(reading),
            reading.Photos.Select(photo => Warnings(photo, reading.Photos.Count > 1)));
    }

    private static XElement Row(PhotoRecord photo) => new(
        "tr",
        Html.Heading("row", photo.File),
        new XElement("td", photo.Light == Light.Back ? "back-lit" : "front-lit"),
        new XElement("td", $"{photo.WidthPx} × {photo.HeightPx}"),
        Cell(photo.PxPerMm, 1),
        Cell(photo.TiltDeg, 1),
        Cell(photo.ReprojectionRmsPx, 2),
        Cell(photo.ReprojectionRmsPx / photo.PxPerMm, 3),
        Pair(photo.Quality?.Mtf50AcrossXPerMm, photo.Quality?.Mtf50AcrossYPerMm, 2),
        Cell(100 * photo.Quality?.Noise, 1),
        Cell(photo.Quality?.LightRange, 1),
        Pair(100 * photo.Quality?.GlareShare, 100 * photo.Quality?.ShadowShare, 1));

    private static XElement? Frame(PhotoRecord photo, bool isOneOfMany)
    {
        if (photo.Frame is not { } frame) return null;
        string words = frame.InWords();
        return Html.Paragraph($"{(isOneOfMany ? $"{photo.File}: t" : "T")}{words[1..]}.");
    }

    private static XElement Cell(double? value, int decimals) =>
        new("td", value is double known ? Numbers.Fixed(known, decimals) : Html.NotMeasured());

    private static XElement Pair(double? first, double? second, int decimals) =>
        new("td", first is double a && second is double b ? $"{Numbers.Fixed(a, decimals)}, {Numbers.Fixed(b, decimals)}" : Html.NotMeasured());

    /// <summary>What the darkness of all cells shares; the errors beside the cells leave it out.</summary>
    private static XElement? ScaleError(Reading reading) =>
        reading.Photos.Max(photo => photo.Quality?.DarknessScaleError) is double error
            ? Html.Paragraph($"The errors of the cells say how far cells of this card can be told apart. Beyond them, all darkness of a photo may be stretched or shrunk by about {Numbers.Fixed(100 * error, 0)} % alike (one standard error), because phones bend tones; order and recommendations hardly suffer.")
            : null;

    private static XElement Warnings(PhotoRecord photo, bool isOneOfMany)
    {
        string where = isOneOfMany ? $"{photo.File}: " : "";
        return photo.Warnings.Count == 0
            ? Html.Paragraph($"{where}{(isOneOfMany ? "no" : "No")} warnings.")
            : new("ul", Html.Class("warnings"), Judgement.Sorted(photo.Warnings).Select(warning => new XElement("li", new XElement("strong", "Warning:"), " ", where, Sentence.Stopped(warning.Message))));
    }
}
