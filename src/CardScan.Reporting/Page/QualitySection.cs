using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How good the photos were.</summary>
internal static class QualitySection
{
    private static readonly string[] Headings =
        ["Photo", "Light", "Size, px", "Scale, px/mm", "Tilt, degrees", "Marker residual (RMS), px", "The same on the card, mm"];

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
        Cell(photo.ReprojectionRmsPx / photo.PxPerMm, 3));

    private static XElement Cell(double? value, int decimals) =>
        new("td", value is double known ? Numbers.Fixed(known, decimals) : Html.NotMeasured());

    private static XElement Warnings(PhotoRecord photo, bool isOneOfMany)
    {
        string where = isOneOfMany ? $"{photo.File}: " : "";
        return photo.Warnings.Count == 0
            ? Html.Paragraph($"{where}{(isOneOfMany ? "no" : "No")} warnings.")
            : new("ul", Html.Class("warnings"), photo.Warnings.Select(warning => new XElement("li", new XElement("strong", "Warning:"), " ", where, Sentence.Stopped(warning.Message))));
    }
}
