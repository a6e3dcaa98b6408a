using System.Globalization;
using System.Runtime.InteropServices;
using System.Xml.Linq;

namespace CardScan.Reporting;

/// <summary>
/// Elements of a drawing inside the page. They carry no style attribute, so that the page's policy can forbid all but its
/// own style sheet.
/// </summary>
internal static class Svg
{
    /// <summary>A whole drawing with its text alternative.</summary>
    /// <param name="alternative">What it shows, in a sentence or two, read out by a screen reader.</param>
    /// <param name="box">The area drawn.</param>
    /// <param name="widthPx">Width on the screen before any fitting, CSS px.</param>
    /// <param name="content">Elements, lowest first.</param>
    public static XElement Drawing(string alternative, Box box, double widthPx, params object?[] content) => new(
        "svg",
        new XAttribute("viewBox", $"{Number(box.X)} {Number(box.Y)} {Number(box.Width)} {Number(box.Height)}"),
        At("width", Math.Round(widthPx)), At("height", Math.Round(widthPx * box.Height / box.Width)),
        new XAttribute("role", "img"), new XAttribute("aria-label", alternative),
        content);

    public static XElement Text(string text, double x, double y, double size, string anchor, params object?[] more) =>
        new("text", At("x", x), At("y", y), At("font-size", size), new XAttribute("text-anchor", anchor), more, text);

    public static XElement Line(double x1, double y1, double x2, double y2, params object?[] more) =>
        new("line", At("x1", x1), At("y1", y1), At("x2", x2), At("y2", y2), more);

    public static XElement Rect(double x, double y, double width, double height, params object?[] more) =>
        new("rect", At("x", x), At("y", y), At("width", width), At("height", height), more);

    public static XElement Circle(Point center, double radius, Rgb fill, params object?[] more) =>
        new("circle", At("cx", center.X), At("cy", center.Y), At("r", radius), Fill(fill), more);

    public static XElement Group(params object?[] content) => new("g", content);

    /// <summary>The words that show when the pointer rests on the element.</summary>
    public static XElement Tip(string words) => new("title", words);

    public static XAttribute Class(string name) => new("class", name);

    public static XAttribute Fill(Rgb colour) => new("fill", colour.Hex);

    public static XAttribute At(string name, double value) => new(name, Number(value));

    public static string Number(double value)
    {
        string digits = value.ToString("0.###", CultureInfo.InvariantCulture);
        return digits == "-0" ? "0" : digits;
    }
}

/// <summary>A rectangle of a drawing.</summary>
[StructLayout(LayoutKind.Auto)]
internal readonly record struct Box(double X, double Y, double Width, double Height);
