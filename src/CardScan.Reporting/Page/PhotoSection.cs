using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The photos, rectified, with the marks drawn over them.</summary>
internal static class PhotoSection
{
    public static XElement Write(ReportInput input)
    {
        Reading reading = input.Reading;
        if (input.Pictures.Count == 0)
        {
            return Html.Section(
                "photo", "The photo",
                Html.Paragraph("This page was made from a saved reading, without its photo. Read the photo again to see it here."));
        }

        CardMarks marks = CardMarks.Of(reading);
        return Html.Section(
            "photo", input.Pictures.Count == 1 ? "The photo" : "The photos",
            input.Pictures.Select((picture, index) => Figure(reading, marks, picture, reading.Photos[index])),
            Key(reading, marks));
    }

    private static XElement Figure(Reading reading, CardMarks marks, CardPicture picture, PhotoRecord photo)
    {
        string light = photo.Light == Light.Back ? "back-lit" : "front-lit";
        (double width, double height) = (picture.WidthPx / picture.PxPerMm, picture.HeightPx / picture.PxPerMm);
        string file = Convert.ToBase64String(Pixels.Jpeg(picture));
        return new(
            "figure",
            Html.Scroller(
                $"Photo {photo.File} with marks", fits: false,
                Svg.Drawing(
                    $"Photo of card {reading.Plan.Number} ({light}), rectified, with every cell outlined and labelled",
                    Alternative(reading),
                    new(-picture.MarginMm, -picture.MarginMm, width, height), 1100,
                    Svg.Class("photo"), new XAttribute("preserveAspectRatio", "xMinYMid meet"),
                    new XElement("image",
                        new XAttribute("href", $"data:image/jpeg;base64,{file}"), new XAttribute("preserveAspectRatio", "none"),
                        Svg.At("x", -picture.MarginMm), Svg.At("y", -picture.MarginMm), Svg.At("width", width), Svg.At("height", height)),
                    MarkSvg.Draw(marks.Marks))),
            new XElement("figcaption", $"{photo.File}, {light}, turned upright and rectified: {Numbers.Chosen(Math.Round(width))} × {Numbers.Chosen(Math.Round(height))}\u00a0mm."));
    }

    private static string Alternative(Reading reading) => reading.Recommendations.Count == 0
        ? "No cell is marked as recommended."
        : "Marked as recommended: " + Sentence.List([.. NumberedSetting.Of(reading).Select(setting => setting.First.OwnCell is { } cell
            ? $"{setting.Number}, {GridCells.Place(cell.Row, cell.Column)}"
            : $"{setting.Number}, no cell{(setting.First.Card is { } card ? $" of this card (on card {card})" : "")}")]) + ".";

    private static XElement Key(Reading reading, CardMarks marks) => new(
        "ul", Html.Class("key"), KeyEntry.Of(reading, marks.Labels).Select(KeyItem.Write));
}
