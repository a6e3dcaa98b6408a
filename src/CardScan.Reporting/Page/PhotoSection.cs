using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The photos, rectified, with the marks drawn over them.</summary>
internal static class PhotoSection
{
    public static XElement Write(ReportInput input)
    {
        Reading reading = input.Reading;
        string title = Voice.Say("page.photo.title", ("photos", input.Pictures.Count));
        if (input.Pictures.Count == 0) return Html.Section("photo", title, Html.Paragraph(Voice.Say("page.photo.none")));

        CardMarks marks = CardMarks.Of(reading);
        return Html.Section(
            "photo", title,
            input.Pictures.Select((picture, index) => Figure(reading, marks, picture, reading.Photos[index])),
            new XElement("ul", Html.Class("key"), KeyEntry.Of(reading, marks.Labels).Select(KeyItem.Write)));
    }

    private static XElement Figure(Reading reading, CardMarks marks, CardPicture picture, PhotoRecord photo)
    {
        (double width, double height) = (picture.WidthPx / picture.PxPerMm, picture.HeightPx / picture.PxPerMm);
        string file = Convert.ToBase64String(Pixels.Jpeg(picture));
        return new(
            "figure",
            Html.Scroller(
                Voice.Say("page.photo.scroller", ("file", photo.File)), fits: false,
                Svg.Drawing(
                    Alternative(reading, photo.Light),
                    new(-picture.MarginMm, -picture.MarginMm, width, height), 1100,
                    Svg.Class("photo"), new XAttribute("preserveAspectRatio", "xMinYMid meet"),
                    new XElement("image",
                        new XAttribute("href", $"data:image/jpeg;base64,{file}"), new XAttribute("preserveAspectRatio", "none"),
                        Svg.At("x", -picture.MarginMm), Svg.At("y", -picture.MarginMm), Svg.At("width", width), Svg.At("height", height)),
                    MarkSvg.Draw(marks.Marks))),
            new XElement("figcaption", Voice.Say(
                "page.photo.caption",
                ("file", photo.File), ("light", $"{photo.Light}"), ("width", Mm(Math.Round(width))), ("height", Mm(Math.Round(height))))));
    }

    private static string Alternative(Reading reading, Light light)
    {
        List<(string, Figure)> values = [("number", reading.Plan.Number), ("light", $"{light}")];
        if (reading.Recommendations.Count > 0) values.Add(("settings", List(NumberedSetting.Of(reading).Select(Marked))));
        return Voice.Say("page.photo.alternative", values);
    }

    private static Figure Marked(NumberedSetting setting)
    {
        List<(string, Figure)> values = [("number", setting.Number)];
        if (setting.First.Card is { } card) values.Add(("card", card));
        if (setting.First.OwnCell is { } cell) values.Add(("place", GridCells.Place(cell.Row, cell.Column)));
        return new Phrase("page.photo.marked", values);
    }
}
