using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>The annotated pictures, side by side.</summary>
internal static class PictureSection
{
    public static XElement? Write(ComparisonInput input)
    {
        XElement[] figures = [.. input.Pictures.Select(Figure).OfType<XElement>()];
        if (figures.Length == 0) return null;
        return Html.Section(
            "pictures", Voice.Say("page.compare.pictures"),
            new XElement("div", Html.Class("pair"), figures),
            figures.Length < input.Readings.Count
                ? Html.Paragraph(Html.Class("meaning"), Voice.Say("page.compare.pictures-missing"))
                : null);
    }

    private static XElement? Figure(ComparedPicture picture) => Pixels.JpegOf(picture.File) is not { } jpeg ? null : new(
        "figure",
        new XElement("h3", picture.Label),
        new XElement(
            "img",
            Html.Class("card"),
            new XAttribute("alt", Voice.Say("page.compare.picture", ("batch", picture.Label))),
            new XAttribute("src", $"data:image/jpeg;base64,{Convert.ToBase64String(jpeg)}")));
}
