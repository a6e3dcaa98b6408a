using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The two scales of a chart, its axes, and a curve with its band.</summary>
/// <param name="X">Scale to the right.</param>
/// <param name="Y">Scale upwards.</param>
/// <param name="HeightPx">Height of the plotted area, px.</param>
internal sealed record Plot(ChartScale X, ChartScale Y, double HeightPx)
{
    private const double Left = 60, Top = 14, WidthPx = 410, Bottom = 52, FontPx = 14;

    /// <summary>The whole drawing, axes included.</summary>
    /// <param name="name">Short name, read out by a screen reader.</param>
    /// <param name="description">What it shows, in a sentence.</param>
    /// <param name="abscissa">What x is, with its unit.</param>
    /// <param name="ordinate">What y is, with its unit.</param>
    /// <param name="content">Elements, lowest first.</param>
    public XElement Drawing(string name, string description, string abscissa, string ordinate, params object?[] content) => Svg.Drawing(
        name, description, new(0, 0, Left + WidthPx + 16, Top + HeightPx + Bottom), 540, [Svg.Class("chart fits"), Axes(abscissa, ordinate), .. content]);

    /// <summary>Where a pair of values lies, px.</summary>
    public Point At(double x, double y) => new(Left + X.Share(x) * WidthPx, Top + (1 - Y.Share(y)) * HeightPx);

    /// <summary>As <see cref="At"/>, held inside the plot: bands may run far out where little is known.</summary>
    public Point Held(double x, double y) => At(x, Math.Clamp(y, Y.Low, Y.High));

    /// <summary>A curve with its band.</summary>
    public IEnumerable<XElement> Curve(IReadOnlyCollection<CurvePoint> points)
    {
        IEnumerable<Point> low = points.Select(point => Held(point.X, point.Low));
        IEnumerable<Point> high = points.Reverse().Select(point => Held(point.X, point.High));
        yield return new("path", new XAttribute("d", MarkSvg.Path([.. low, .. high], isClosed: true)), Svg.Class("band"));
        yield return new("path", new XAttribute("d", MarkSvg.Path([.. points.Select(point => Held(point.X, point.Y))], isClosed: false)), Svg.Class("curve"));
    }

    /// <summary>The points that can be drawn, by increasing x.</summary>
    public static List<CurvePoint> Drawable(FittedCurve curve) =>
        [.. curve.Points.Where(point => double.IsFinite(point.X) && double.IsFinite(point.Y) && double.IsFinite(point.Low) && double.IsFinite(point.High)).OrderBy(point => point.X)];

    private IEnumerable<XElement> Axes(string abscissa, string ordinate)
    {
        foreach (double tick in Y.Ticks)
        {
            double y = At(X.Low, tick).Y;
            yield return Svg.Line(Left, y, Left + WidthPx, y, Svg.Class("gridline"));
            yield return Svg.Text(Y.Print(tick), Left - 7, y + 4.5, FontPx, "end", Svg.Class("tick"));
        }

        foreach (double tick in X.Ticks)
        {
            double x = At(tick, Y.Low).X;
            yield return Svg.Line(x, Top + HeightPx, x, Top + HeightPx + 5, Svg.Class("axis"));
            yield return Svg.Text(X.Print(tick), x, Top + HeightPx + 20, FontPx, "middle", Svg.Class("tick"));
        }

        yield return Svg.Line(Left, Top + HeightPx, Left + WidthPx, Top + HeightPx, Svg.Class("axis"));
        string scale = X.IsLogarithmic ? " (logarithmic scale)" : "";
        yield return Svg.Text(abscissa + scale, Left + WidthPx / 2, Top + HeightPx + 44, FontPx, "middle", Svg.Class("axis-title"));
        double middle = Top + HeightPx / 2;
        yield return Svg.Text(ordinate, 14, middle, FontPx, "middle", Svg.Class("axis-title"), new XAttribute("transform", $"rotate(-90 14 {Svg.Number(middle)})"));
    }
}
