using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Line widths of a ladder over the focus offset along one axis, the fitted curves with their bands, the best offset.</summary>
internal static class FocusChart
{
    private const double HeightPx = 200;

    /// <summary>The chart, or null where no width was measured along the axis.</summary>
    /// <param name="reading">A reading of a focus ladder.</param>
    /// <param name="axis">The axis, x or y.</param>
    /// <param name="focus">What is known of the beam along it.</param>
    /// <param name="of">The width along it.</param>
    public static XElement? Draw(Reading reading, string axis, FocusAxis? focus, Func<LineWidths, Measured?> of)
    {
        (CellReading Cell, Measured Width)[] dots = [.. Widths(reading, of)];
        if (dots.Length == 0) return null;
        List<CurvePoint>[] curves =
            [.. (focus?.Curves ?? []).Select(curve => ChartPlane.Drawable(curve.Points)).Where(points => points.Count > 1)];
        double[] xs = [.. reading.Cells.Select(cell => cell.Settings.FocusOffsetMm)];
        double[] ys =
        [
            0, .. dots.Select(dot => dot.Width.Value + dot.Width.StandardError),
            .. curves.SelectMany(points => points).Select(point => point.Y),
        ];
        ChartPlane plane = new(ChartScale.Linear(xs.Min(), xs.Max()), ChartScale.Linear(0, ys.Max()), HeightPx);
        return plane.Drawing(
            Alternative(axis, dots.Length, focus?.BestOffset),
            plane.Axes(Voice.Say("page.focus.offset"), Voice.Say("page.focus.width", ("axis", axis))),
            Best(plane, focus?.BestOffset),
            curves.Select(plane.Curve),
            dots.Select(dot => Dot(plane, reading.Plan, dot.Cell, dot.Width)));
    }

    private static IEnumerable<(CellReading Cell, Measured Width)> Widths(Reading reading, Func<LineWidths, Measured?> of)
    {
        foreach (CellReading cell in reading.Cells)
        {
            if (cell.LineWidths is { } lines && of(lines) is { } width) yield return (cell, width);
        }
    }

    private static string Alternative(string axis, int cells, Interval? best)
    {
        List<(string, Figure)> values = [("axis", axis), ("cells", cells)];
        if (best is not null) values.Add(("best", In(Unit.OffsetMm, best.Value)));
        return Voice.Say("page.focus.alternative", values);
    }

    private static XElement Dot(ChartPlane plane, Plan plan, CellReading cell, Measured width) => plane.Dot(
        cell.Settings.FocusOffsetMm, width.Value, width.Value - width.StandardError, width.Value + width.StandardError,
        cell.Flags.Contains(CellFlag.Outlier) ? "dot weak" : "dot",
        Voice.Say("page.focus.tip", ("setting", cell.Settings.ToFigure(plan)), ("width", Numbers.WithError(width, 3))));

    /// <summary>The interval of the best offset as a band from top to bottom, and its middle.</summary>
    private static IEnumerable<XElement> Best(ChartPlane plane, Interval? best)
    {
        if (best is null) yield break;
        double low = Math.Max(best.Low, plane.X.Low), high = Math.Min(best.High, plane.X.High);
        (Point from, Point to) = (plane.At(low, plane.Y.High), plane.At(high, plane.Y.Low));
        Point middle = plane.At(best.Value, plane.Y.High);
        yield return Svg.Rect(from.X, from.Y, to.X - from.X, to.Y - from.Y, Svg.Class("band"));
        yield return Svg.Line(
            middle.X, from.Y, middle.X, to.Y, Svg.Class("axis"),
            Svg.Tip(Voice.Say("page.focus.best-tip", ("best", In(Unit.OffsetMm, best.Value)))));
    }
}
