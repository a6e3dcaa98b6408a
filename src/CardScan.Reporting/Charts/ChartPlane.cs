using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The two scales of a chart, its axes, and where a pair of values lies, px.</summary>
/// <param name="X">Scale along the bottom.</param>
/// <param name="Y">Scale up the left side.</param>
/// <param name="PlotHeight">Height of the plotted area, px.</param>
internal sealed record ChartPlane(ChartScale X, ChartScale Y, double PlotHeight = 270)
{
    public const double PlotWidth = 410;
    private const double Left = 68, Top = 14, Bottom = 52, FontPx = 14, WidthOnScreenPx = 540;

    /// <summary>The points of a curve that can be drawn, by increasing x.</summary>
    public static List<CurvePoint> Drawable(FittedCurve curve) => Drawable(curve.Points);

    /// <summary>The same of points alone.</summary>
    public static List<CurvePoint> Drawable(ValueList<CurvePoint> points) =>
        [.. points.Where(point => Array.TrueForAll([point.X, point.Y, point.Low, point.High], double.IsFinite)).OrderBy(point => point.X)];

    /// <summary>The whole drawing.</summary>
    /// <param name="alternative">What it shows, in a sentence or two, read out by a screen reader.</param>
    /// <param name="content">Elements, <see cref="Axes"/> among them, lowest first.</param>
    public XElement Drawing(string alternative, params object?[] content) => Svg.Drawing(
        alternative, new(0, 0, Left + PlotWidth + 16, Top + PlotHeight + Bottom), WidthOnScreenPx, [Svg.Class("chart fits"), .. content]);

    public Point At(double x, double y) => new(Left + X.Share(x) * PlotWidth, Top + (1 - Y.Share(y)) * PlotHeight);

    /// <summary>As <see cref="At"/>, held inside the plot: bands may run far out where little is known.</summary>
    public Point Held(double x, double y) => At(x, Math.Clamp(y, Y.Low, Y.High));

    /// <summary>Grid lines, ticks and the names of both axes.</summary>
    /// <param name="abscissa">What x is, with its unit.</param>
    /// <param name="ordinate">What y is, with its unit.</param>
    /// <param name="xTicks">Words in place of the numbers of the x scale, each with its value.</param>
    public IEnumerable<XElement> Axes(string abscissa, string ordinate, IEnumerable<(double Value, string Words)>? xTicks = null)
    {
        foreach (double tick in Y.Ticks)
        {
            double y = At(X.Low, tick).Y;
            yield return Svg.Line(Left, y, Left + PlotWidth, y, Svg.Class("gridline"));
            yield return Svg.Text(Y.Print(tick), Left - 7, y + 4.5, FontPx, "end", Svg.Class("tick"));
        }

        foreach ((double tick, string words) in xTicks ?? X.Ticks.Select(tick => (tick, X.Print(tick))))
        {
            double x = At(tick, Y.Low).X;
            yield return Svg.Line(x, Top + PlotHeight, x, Top + PlotHeight + 5, Svg.Class("axis"));
            yield return Svg.Text(words, x, Top + PlotHeight + 20, FontPx, "middle", Svg.Class("tick"));
        }

        yield return Svg.Line(Left, Top + PlotHeight, Left + PlotWidth, Top + PlotHeight, Svg.Class("axis"));
        string name = X.IsLogarithmic ? Voice.Say("page.chart.logarithmic", ("name", abscissa)) : abscissa;
        yield return Svg.Text(name, Left + PlotWidth / 2, Top + PlotHeight + 44, FontPx, "middle", Svg.Class("axis-title"));
        double middle = Top + PlotHeight / 2;
        yield return Svg.Text(
            ordinate, 14, middle, FontPx, "middle", Svg.Class("axis-title"),
            new XAttribute("transform", $"rotate(-90 14 {Svg.Number(middle)})"));
    }

    /// <summary>A curve with its band.</summary>
    public IEnumerable<XElement> Curve(IReadOnlyCollection<CurvePoint> points)
    {
        IEnumerable<Point> low = points.Select(point => Held(point.X, point.Low));
        IEnumerable<Point> high = points.Reverse().Select(point => Held(point.X, point.High));
        yield return new("path", new XAttribute("d", MarkSvg.Path([.. low, .. high], isClosed: true)), Svg.Class("band"));
        ValueList<Point> middle = points.Select(point => Held(point.X, point.Y)).ToValueList();
        yield return new("path", new XAttribute("d", MarkSvg.Path(middle, isClosed: false)), Svg.Class("curve"));
    }

    /// <summary>A line from side to side at some height.</summary>
    public XElement Level(double y, string name) =>
        Svg.Line(Left, At(X.Low, y).Y, Left + PlotWidth, At(X.Low, y).Y, Svg.Class(name));

    /// <summary>A piece of such a line.</summary>
    public XElement Piece(double from, double to, double y, string name) =>
        Svg.Line(At(from, y).X, At(from, y).Y, At(to, y).X, At(to, y).Y, Svg.Class(name));

    /// <summary>A line from bottom to top at some place, with what it means.</summary>
    public XElement Upright(double x, string name, string tip) => Svg.Group(
        Svg.Line(At(x, Y.Low).X, At(x, Y.Low).Y, At(x, Y.High).X, At(x, Y.High).Y, Svg.Class(name)), Svg.Tip(tip));

    /// <summary>A dot with a vertical bar for its interval.</summary>
    public XElement Dot(double x, double y, double low, double high, string name, string tip) => Svg.Group(
        Svg.Line(Held(x, low).X, Held(x, low).Y, Held(x, high).X, Held(x, high).Y, Svg.Class("error-bar")),
        new XElement("circle", Svg.At("cx", At(x, y).X), Svg.At("cy", At(x, y).Y), Svg.At("r", 4), Svg.Class(name)),
        Svg.Tip(tip));
}
