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
        string result = Voice.Say("page.curve.result", ("process", $"{grid.Reading.Plan.Process}"));
        return plane.Drawing(
            Voice.Say(
                "page.curve.alternative",
                ("result", result), ("energy", curve.Abscissa), ("cells", dots.Count),
                ("first", In(Unit.Contrast, points[0].Y)), ("last", In(Unit.Contrast, points[^1].Y))),
            plane.Axes(curve.Abscissa, result),
            plane.Curve(points),
            dots.OrderBy(dot => dot.Badge is not null).Select(dot => Draw(dot, plane, grid.Reading.Plan)));
    }

    private static IEnumerable<Dot> Dots(GridCells grid, FittedCurve curve)
    {
        foreach (CurveCell at in curve.Cells)
        {
            if (!double.IsFinite(at.X) || grid.At(at.Row, at.Column) is not { } cell) continue;
            bool isCut = grid.Reading.Plan.Process == Process.Cut;
            double? y = isCut ? ShownCell.OpenShare(cell) : cell.MarkStrength?.Value;
            if (y is double value)
                yield return new(at, cell, value, isCut ? 0 : cell.MarkStrength!.StandardError, grid.Badge(at.Row, at.Column));
        }
    }

    private static XElement Draw(Dot dot, ChartPlane plane, Plan plan)
    {
        string tip = Voice.Say("page.curve.tip", ("setting", dot.Cell.Settings.ToFigure(plan)), ("value", In(Unit.Contrast, dot.Y)));
        (double low, double high) = (dot.Y - dot.StandardError, dot.Y + dot.StandardError);
        if (dot.Badge is null) return plane.Dot(dot.At.X, dot.Y, low, high, IsWeak(dot.Cell) ? "dot weak" : "dot", tip);
        (Point from, Point to) = (plane.Held(dot.At.X, low), plane.Held(dot.At.X, high));
        return Svg.Group(
            Svg.Line(from.X, from.Y, to.X, to.Y, Svg.Class("error-bar")),
            MarkSvg.Draw([new BadgeMark(dot.Badge, plane.At(dot.At.X, dot.Y), 8)]),
            Svg.Tip(tip));
    }

    /// <summary>True for a cell that was left out or counts for little.</summary>
    internal static bool IsWeak(CellReading cell) => ShownCell.IsLeftOut(cell) || cell.Flags.Contains(CellFlag.Outlier);
}
