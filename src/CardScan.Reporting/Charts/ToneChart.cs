using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Lightness over the setting that makes the tones, and each tone as the grey it is expected to be.</summary>
internal static class ToneChart
{
    private const double HeightPx = 240, SwatchPx = 15;

    /// <summary>The chart, or null where there are too few points.</summary>
    public static XElement? Draw(GridCells grid, ToneScale tones)
    {
        List<CurvePoint> points = ChartPlane.Drawable(tones.Curve);
        if (points.Count < 2 || tones.Steps.Count == 0) return null;
        (double X, double Y)[] cells = [.. Cells(grid, tones)];
        double[] xs = [.. points.Select(point => point.X), .. cells.Select(cell => cell.X)];
        double[] ys =
        [
            .. points.Select(point => point.Y), .. cells.Select(cell => cell.Y),
            .. tones.Steps.SelectMany(step => new[] { step.Low, step.High }),
        ];
        ChartPlane plane = new(ChartScale.For(xs.Min(), xs.Max()), ChartScale.Linear(ys.Min(), ys.Max()), HeightPx);
        return plane.Drawing(
            Voice.Say(
                "page.tones.alternative",
                ("setting", tones.Curve.Abscissa), ("tones", tones.Steps.Count), ("quantity", ShownTone.Quantity(tones)),
                ("first", ShownTone.Lightness(tones.Steps[0])), ("last", ShownTone.Lightness(tones.Steps[^1]))),
            plane.Axes(tones.Curve.Abscissa, Voice.Say("page.tones.axis", ("lighter", Is(tones.IsLighterThanBare)))),
            plane.Curve(points),
            cells.Select(cell => Dot(plane.At(cell.X, cell.Y))),
            tones.Steps.Select((step, i) =>
                Swatch(plane.At(ShownTone.ValueOf(tones, step), step.Lightness), Tip(grid.Reading.Plan, tones, step, i + 1), step)));
    }

    private static IEnumerable<(double, double)> Cells(GridCells grid, ToneScale tones) =>
        from at in tones.Curve.Cells
        let cell = grid.At(at.Row, at.Column)
        where cell?.Darkness is not null && double.IsFinite(at.X)
        select (at.X, CieLightness.Of(Math.Pow(10, -cell.Darkness!.Value)));

    private static XElement Dot(Point at) => new("circle", Svg.At("cx", at.X), Svg.At("cy", at.Y), Svg.At("r", 3.5), Svg.Class("dot"));

    private static string Tip(Plan plan, ToneScale tones, ToneStep step, int number) => Voice.Say(
        "page.tones.tip",
        ("number", number), ("setting", ShownTone.SettingOf(plan, step)), ("quantity", ShownTone.Quantity(tones)),
        ("tone", ShownTone.Lightness(step)));

    private static XElement Swatch(Point at, string tip, ToneStep step) => Svg.Group(
        Svg.Rect(at.X - SwatchPx / 2, at.Y - SwatchPx / 2, SwatchPx, SwatchPx, Svg.Fill(ShownTone.Grey(step)), Svg.Class("tone")),
        Svg.Tip(tip));
}
