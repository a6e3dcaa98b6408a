using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Line widths of a ladder over the focus offset along one axis, the fitted curves with their bands, and the best offset.</summary>
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
        (CellReading Cell, Measured Width)[] dots = [.. reading.Cells.Where(cell => cell.LineWidths is not null && of(cell.LineWidths) is not null).Select(cell => (cell, of(cell.LineWidths!)!))];
        if (dots.Length == 0) return null;
        List<CurvePoint>[] curves = [.. (focus?.Curves ?? []).Select(curve => ChartPlane.Drawable(curve.Points)).Where(points => points.Count > 1)];
        double[] xs = [.. reading.Cells.Select(cell => cell.Settings.FocusOffsetMm)];
        double[] ys = [0, .. dots.Select(dot => dot.Width.Value + dot.Width.StandardError), .. curves.SelectMany(points => points).Select(point => point.Y)];
        ChartPlane plane = new(ChartScale.Linear(xs.Min(), xs.Max()), ChartScale.Linear(0, ys.Max()), HeightPx);
        string best = focus?.BestOffset is { } offset ? $"narrowest beam at {Numbers.WithSign(offset.Value, 2)} mm" : "no best offset is told";
        return plane.Drawing(
            $"Line width across {axis} over focus offset",
            $"{dots.Length} cells; {best}.",
            plane.Axes("focus offset, mm", $"width across {axis}, mm"),
            Best(plane, focus?.BestOffset),
            curves.Select(plane.Curve),
            dots.Select(dot => plane.Dot(
                dot.Cell.Settings.FocusOffsetMm, dot.Width.Value, dot.Width.Value - dot.Width.StandardError, dot.Width.Value + dot.Width.StandardError,
                dot.Cell.Flags.Contains(CellFlag.Outlier) ? "dot weak" : "dot",
                $"{SettingWords.AxesOf(reading.Plan, dot.Cell.Settings)}: {Numbers.WithError(dot.Width, 3)} mm")));
    }

    /// <summary>The interval of the best offset as a band from top to bottom, and its middle.</summary>
    private static IEnumerable<XElement> Best(ChartPlane plane, Interval? best)
    {
        if (best is null) yield break;
        double low = Math.Max(best.Low, plane.X.Low), high = Math.Min(best.High, plane.X.High);
        (Point from, Point to, Point middle) = (plane.At(low, plane.Y.High), plane.At(high, plane.Y.Low), plane.At(best.Value, plane.Y.High));
        yield return Svg.Rect(from.X, from.Y, to.X - from.X, to.Y - from.Y, Svg.Class("band"));
        yield return Svg.Line(middle.X, from.Y, middle.X, to.Y, Svg.Class("axis"), Svg.Tip($"best offset {Numbers.WithSign(best.Value, 2)} mm"));
    }
}
