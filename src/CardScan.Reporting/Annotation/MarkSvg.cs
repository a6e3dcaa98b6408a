using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>
/// Draws marks as SVG elements: sharp at any size, and a tenth of the bytes of a picture. Its measures hold for
/// <see cref="MarkPainter"/> too.
/// </summary>
internal static class MarkSvg
{
    public const byte CasingAlpha = 217;
    public const byte PlateAlpha = 217;

    public static double CasedRadius(double radius) => 1.45 * radius;

    public static double PlateCorner(PlateMark plate) => 0.18 * Math.Min(plate.Width, plate.Height);

    public static double BadgeRim(double radius) => 1.18 * radius;

    public static double BadgeTextSize(BadgeMark badge) => 1.6 * badge.Radius;

    /// <summary>A reader's own bold typeface is up to this much wider than the one measured with.</summary>
    private const double WidestTypeface = 1.5;

    /// <summary>Half the width of a badge without its rim: its radius, or more where its text is long.</summary>
    public static double BadgeHalfWidth(BadgeMark badge) => badge.Text.Length == 1
        ? badge.Radius
        : Math.Max(badge.Radius, WidestTypeface * Typeface.WidthOf(badge.Text) * BadgeTextSize(badge) / 2 + 0.4 * badge.Radius);

    public static IEnumerable<XElement> Draw(IEnumerable<Mark> marks) => marks.SelectMany(Draw);

    private static IEnumerable<XElement> Draw(Mark mark) => mark switch
    {
        StrokeMark stroke => Draw(stroke),
        DotMark dot =>
        [
            Svg.Circle(dot.Center, CasedRadius(dot.Radius), InkColours.Casing(dot.Ink), Opacity(CasingAlpha)),
            Svg.Circle(dot.Center, dot.Radius, InkColours.Line(dot.Ink)),
        ],
        PlateMark plate =>
        [
            Svg.Rect(
                plate.X, plate.Y, plate.Width, plate.Height,
                Svg.Fill(Rgb.White), Opacity(PlateAlpha), Svg.At("rx", PlateCorner(plate))),
        ],
        TextMark text => [Text(text)],
        BadgeMark badge =>
        [
            Disc(badge, BadgeRim(badge.Radius), InkColours.Casing(Ink.Recommended)),
            Disc(badge, badge.Radius, InkColours.Line(Ink.Recommended)),
            Svg.Text(
                badge.Text, badge.Center.X, badge.Center.Y + 0.36 * BadgeTextSize(badge), BadgeTextSize(badge), "middle",
                Svg.Fill(InkColours.TextColour), Svg.Class("strong")),
        ],
        _ => throw new ArgumentOutOfRangeException(nameof(mark), mark, "An unknown mark."),
    };

    private static IEnumerable<XElement> Draw(StrokeMark stroke)
    {
        string path = Path(stroke.Points, stroke.IsClosed);
        yield return Line(path, InkColours.Casing(stroke.Ink), stroke.CasedWidth, Opacity(CasingAlpha));
        yield return Line(
            path, InkColours.Line(stroke.Ink), stroke.Width, stroke.Dash is double dash ? Svg.At("stroke-dasharray", dash) : null);
    }

    private static XElement Disc(BadgeMark badge, double radius, Rgb colour)
    {
        double half = BadgeHalfWidth(badge) + radius - badge.Radius;
        return half <= radius
            ? Svg.Circle(badge.Center, radius, colour)
            : Svg.Rect(badge.Center.X - half, badge.Center.Y - radius, 2 * half, 2 * radius, Svg.At("rx", radius), Svg.Fill(colour));
    }

    private static XElement Line(string path, Rgb colour, double width, XAttribute? extra) =>
        new(
            "path", new XAttribute("d", path), new XAttribute("fill", "none"), new XAttribute("stroke", colour.Hex),
            Svg.At("stroke-width", width), extra);

    /// <summary>The text squeezed to the width it was laid out for, whatever typeface the reader's machine has.</summary>
    private static XElement Text(TextMark text) => Svg.Text(
        text.Text, text.Baseline.X, text.Baseline.Y, text.Size, "middle", Svg.Fill(InkColours.TextColour),
        Svg.At("textLength", text.Width), new XAttribute("lengthAdjust", "spacingAndGlyphs"));

    public static string Path(ValueList<Point> points, bool isClosed) =>
        "M" + string.Join(" L", points.Select(point => $"{Svg.Number(point.X)} {Svg.Number(point.Y)}")) + (isClosed ? " Z" : "");

    private static XAttribute Opacity(byte alpha) => Svg.At("opacity", alpha / 255.0);
}
