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
            input.Pictures.Select((picture, index) => Figure(reading, marks, reading.Photos[index], Inside(picture))),
            Key(reading, marks));
    }

    /// <summary>The key of everything drawn over the photos.</summary>
    public static XElement Key(Reading reading, CardMarks marks) =>
        new("ul", Html.Class("key"), KeyEntry.Of(reading, marks.Labels).Select(KeyItem.Write));

    /// <summary>A photo under the marks.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="marks">What is drawn over it.</param>
    /// <param name="photo">Which of its photos.</param>
    /// <param name="picture">The rectified picture.</param>
    /// <param name="over">Elements in the card's frame that lie over everything, mm.</param>
    public static XElement Figure(
        Reading reading, CardMarks marks, PhotoRecord photo, PlacedPicture picture, params IEnumerable<XElement> over)
    {
        Box box = picture.Box;
        XElement drawing = Svg.Drawing(
            Alternative(reading, photo.Light), box, 1100,
            Svg.Class("photo"), new XAttribute("preserveAspectRatio", "xMinYMid meet"),
            new XElement("image",
                new XAttribute("href", picture.Address), new XAttribute("preserveAspectRatio", "none"),
                Svg.At("x", box.X), Svg.At("y", box.Y), Svg.At("width", box.Width), Svg.At("height", box.Height)),
            MarkSvg.Draw(marks.Marks), over);
        // What is in a picture is out of reach; what is in a group is not.
        if (drawing.Elements("a").Any()) drawing.SetAttributeValue("role", "group");
        return new(
            "figure",
            Html.Scroller(Voice.Say("page.photo.scroller", ("file", photo.File)), fits: false, drawing),
            new XElement("figcaption", Voice.Say(
                "page.photo.caption",
                ("file", photo.File), ("light", $"{photo.Light}"),
                ("width", Mm(Math.Round(box.Width))), ("height", Mm(Math.Round(box.Height))))));
    }

    /// <summary>A picture that the page holds itself.</summary>
    private static PlacedPicture Inside(PagePhoto picture) =>
        PlacedPicture.Of(picture, $"{PictureStart}{Convert.ToBase64String(picture.Jpeg.Span)}");

    /// <summary>What the address of a picture inside the page begins with.</summary>
    public const string PictureStart = "data:image/jpeg;base64,";

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

/// <summary>A rectified picture and the part of the card's frame that it shows.</summary>
/// <param name="Address">Where the picture is: an address of its own, or its bytes.</param>
/// <param name="Box">What it shows, mm.</param>
internal sealed record PlacedPicture(string Address, Box Box)
{
    /// <summary>A photo of a page at an address.</summary>
    public static PlacedPicture Of(PagePhoto photo, string address) =>
        new(address, new(photo.XMm, photo.YMm, photo.WidthMm, photo.HeightMm));
}
