using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The fitted curve with its 95 % band, and the cells on it.</summary>
internal static class CurveChart
{
    private const double Left = 60, Top = 14, PlotWidth = 410, PlotHeight = 270, Bottom = 52, FontPx = 14;

    private sealed record Dot(CurveCell At, CellReading Cell, double Y, double StandardError, string? Badge);

    /// <summary>The chart, or null where the curve has too few points to be one.</summary>
    public static XElement? Draw(GridCells grid, FittedCurve curve)
    {
        List<CurvePoint> points = [.. curve.Points.Where(IsFinite).OrderBy(point => point.X)];
        List<Dot> dots = [.. Dots(grid, curve)];
        if (points.Count < 2) return null;

        double[] xs = [.. points.Select(point => point.X), .. dots.Select(dot => dot.At.X)];
        double[] ys = [0, .. points.Select(point => point.Y), .. dots.Select(dot => dot.Y)];
        Plane plane = new(ChartScale.For(xs.Min(), xs.Max()), ChartScale.Linear(ys.Min(), ys.Max()));
        string ordinate = Ordinate(grid.Reading.Plan.Process);
        return Svg.Drawing(
            $"Curve of {ordinate} over {curve.Abscissa}",
            $"The fitted curve goes from {Numbers.Fixed(points[0].Y, 2)} to {Numbers.Fixed(points[^1].Y, 2)}; {dots.Count} cells are drawn on it.",
            new(0, 0, Left + PlotWidth + 16, Top + PlotHeight + Bottom), 540,
            Svg.Class("chart fits"),
            Axes(plane, curve.Abscissa, ordinate),
            Curve(points, plane),
            dots.OrderBy(dot => dot.Badge is not null).Select(dot => Draw(dot, plane, grid.Reading.Plan)));
    }

    private static string Ordinate(Process process) =>
        process == Process.Cut ? "share of the sides that is open" : "mark strength |1 − Y cell / Y bare|";

    private static IEnumerable<Dot> Dots(GridCells grid, FittedCurve curve)
    {
        foreach (CurveCell at in curve.Cells)
        {
            if (!double.IsFinite(at.X) || grid.At(at.Row, at.Column) is not { } cell) continue;
            bool isCut = grid.Reading.Plan.Process == Process.Cut;
            double? y = isCut ? CellWords.OpenShare(cell) : cell.MarkStrength?.Value;
            if (y is double value) yield return new(at, cell, value, isCut ? 0 : cell.MarkStrength!.StandardError, grid.Badge(at.Row, at.Column));
        }
    }

    private static IEnumerable<XElement> Axes(Plane plane, string abscissa, string ordinate)
    {
        foreach (double tick in plane.Y.Ticks)
        {
            double y = plane.At(plane.X.Low, tick).Y;
            yield return Svg.Line(Left, y, Left + PlotWidth, y, Svg.Class("gridline"));
            yield return Svg.Text(plane.Y.Print(tick), Left - 7, y + 4.5, FontPx, "end", Svg.Class("tick"));
        }

        foreach (double tick in plane.X.Ticks)
        {
            double x = plane.At(tick, plane.Y.Low).X;
            yield return Svg.Line(x, Top + PlotHeight, x, Top + PlotHeight + 5, Svg.Class("axis"));
            yield return Svg.Text(plane.X.Print(tick), x, Top + PlotHeight + 20, FontPx, "middle", Svg.Class("tick"));
        }

        yield return Svg.Line(Left, Top + PlotHeight, Left + PlotWidth, Top + PlotHeight, Svg.Class("axis"));
        string scale = plane.X.IsLogarithmic ? " (logarithmic scale)" : "";
        yield return Svg.Text(abscissa + scale, Left + PlotWidth / 2, Top + PlotHeight + 44, FontPx, "middle", Svg.Class("axis-title"));
        double middle = Top + PlotHeight / 2;
        yield return Svg.Text(ordinate, 14, middle, FontPx, "middle", Svg.Class("axis-title"), new XAttribute("transform", $"rotate(-90 14 {Svg.Number(middle)})"));
    }

    private static IEnumerable<XElement> Curve(List<CurvePoint> points, Plane plane)
    {
        IEnumerable<Point> low = points.Select(point => plane.Held(point.X, point.Low));
        IEnumerable<Point> high = points.AsEnumerable().Reverse().Select(point => plane.Held(point.X, point.High));
        yield return new("path", new XAttribute("d", MarkSvg.Path([.. low, .. high], isClosed: true)), Svg.Class("band"));
        yield return new("path", new XAttribute("d", MarkSvg.Path([.. points.Select(point => plane.Held(point.X, point.Y))], isClosed: false)), Svg.Class("curve"));
    }

    private static XElement Draw(Dot dot, Plane plane, Plan plan)
    {
        Point at = plane.At(dot.At.X, dot.Y);
        Point low = plane.Held(dot.At.X, dot.Y - dot.StandardError);
        Point high = plane.Held(dot.At.X, dot.Y + dot.StandardError);
        return Svg.Group(
            Svg.Line(low.X, low.Y, high.X, high.Y, Svg.Class("error-bar")),
            dot.Badge is null
                ? new XElement("circle", Svg.At("cx", at.X), Svg.At("cy", at.Y), Svg.At("r", 4), Svg.Class(IsWeak(dot.Cell) ? "dot weak" : "dot"))
                : MarkSvg.Draw([new BadgeMark(dot.Badge, at, 8)]),
            Svg.Tip($"{SettingWords.AxesOf(plan, dot.Cell.Settings)}: {Numbers.Fixed(dot.Y, 2)}"));
    }

    private static bool IsWeak(CellReading cell) => CellWords.IsLeftOut(cell) || cell.Flags.Contains(CellFlag.Outlier);

    private static bool IsFinite(CurvePoint point) =>
        double.IsFinite(point.X) && double.IsFinite(point.Y) && double.IsFinite(point.Low) && double.IsFinite(point.High);

    /// <summary>The two scales, and where a pair of values lies, px.</summary>
    private sealed record Plane(ChartScale X, ChartScale Y)
    {
        public Point At(double x, double y) => new(Left + X.Share(x) * PlotWidth, Top + (1 - Y.Share(y)) * PlotHeight);

        /// <summary>As <see cref="At"/>, held inside the plot: bands may run far out where little is known.</summary>
        public Point Held(double x, double y) => At(x, Math.Clamp(y, Y.Low, Y.High));
    }
}
