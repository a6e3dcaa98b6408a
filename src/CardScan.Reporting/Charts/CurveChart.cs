using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The fitted curve with its 95 % band, and the cells on it.</summary>
internal static class CurveChart
{
    private sealed record Dot(CurveCell At, CellReading Cell, double Y, double StandardError, string? Badge);

    /// <summary>The chart, or null where the curve has too few points to be one.</summary>
    public static XElement? Draw(GridCells grid, FittedCurve curve)
    {
        List<CurvePoint> points = ChartPlane.Drawable(curve);
        List<Dot> dots = [.. Dots(grid, curve)];
        if (points.Count < 2) return null;

        double[] xs = [.. points.Select(point => point.X), .. dots.Select(dot => dot.At.X)];
        double[] ys = [0, .. points.Select(point => point.Y), .. dots.Select(dot => dot.Y)];
        ChartPlane plane = new(ChartScale.For(xs.Min(), xs.Max()), ChartScale.Linear(ys.Min(), ys.Max()));
        string ordinate = Ordinate(grid.Reading.Plan.Process);
        return plane.Drawing(
            $"Curve of {ordinate} over {curve.Abscissa}",
            $"The fitted curve goes from {Numbers.Fixed(points[0].Y, 2)} to {Numbers.Fixed(points[^1].Y, 2)}; {dots.Count} cells are drawn on it.",
            plane.Axes(curve.Abscissa, ordinate),
            plane.Curve(points),
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

    private static XElement Draw(Dot dot, ChartPlane plane, Plan plan)
    {
        string tip = $"{SettingWords.AxesOf(plan, dot.Cell.Settings)}: {Numbers.Fixed(dot.Y, 2)}";
        (double low, double high) = (dot.Y - dot.StandardError, dot.Y + dot.StandardError);
        if (dot.Badge is null) return plane.Dot(dot.At.X, dot.Y, low, high, IsWeak(dot.Cell) ? "dot weak" : "dot", tip);
        (Point from, Point to) = (plane.Held(dot.At.X, low), plane.Held(dot.At.X, high));
        return Svg.Group(
            Svg.Line(from.X, from.Y, to.X, to.Y, Svg.Class("error-bar")),
            MarkSvg.Draw([new BadgeMark(dot.Badge, plane.At(dot.At.X, dot.Y), 8)]),
            Svg.Tip(tip));
    }

    private static bool IsWeak(CellReading cell) => CellWords.IsLeftOut(cell) || cell.Flags.Contains(CellFlag.Outlier);
}
