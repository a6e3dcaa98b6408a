using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Both cards over dose, and how their cells agree.</summary>
internal static class CurvesSection
{
    public static XElement? Write(ComparedPair pair, bool isOneOfMany, int index)
    {
        XElement[] figures = [.. new[] { Curves(pair), Agreement(pair) }.OfType<XElement>()];
        if (figures.Length == 0) return null;
        return Html.Section(
            $"curves-{index + 1}", isOneOfMany ? $"{pair.Other}: dose and agreement" : "Dose and agreement",
            new XElement("div", Html.Class("pair"), figures));
    }

    private static XElement? Curves(ComparedPair pair)
    {
        if (pair.Curves.Count != 2) return null;
        ChartPoint[] all = [.. pair.Curves.SelectMany(curve => curve.Points.Concat(curve.Cells))];
        ChartPlane plane = new(ChartScale.For(all.Min(point => point.X), all.Max(point => point.X)), ChartScale.Linear(0, all.Max(point => point.Y)));
        string names = $"Filled dots and solid line: {pair.Reference}. Hollow dots and dashed line: {pair.Other}.";
        return Figure(
            "Mark strength over dose",
            plane.Drawing(
                "Mark strength of both cards over dose", names,
                plane.Axes(pair.Curves[0].Abscissa, "mark strength |1 − Y cell / Y bare|"),
                pair.Curves.Select((curve, i) => new XElement("path",
                    new XAttribute("d", MarkSvg.Path([.. curve.Points.Select(point => plane.Held(point.X, point.Y))], isClosed: false)), Svg.Class(i == 0 ? "curve" : "curve other"))),
                pair.Curves.Select((curve, i) => curve.Cells.Select(cell =>
                    plane.Dot(cell.X, cell.Y, cell.Y, cell.Y, i == 0 ? "dot" : "dot weak", $"{curve.Label}: {Numbers.Fixed(cell.Y, 2)}")))),
            pair.RelativeDose is null
                ? $"{names} Each has a curve of its own."
                : $"{names} One curve through both, that of {pair.Other} moved along the dose by the factor {Numbers.Fixed(pair.RelativeDose.Value, 2)}.");
    }

    private static XElement? Agreement(ComparedPair pair)
    {
        if (pair.Agreement is not { } agreement) return null;
        double[] ys = [0, agreement.LowerLimit.Low, agreement.UpperLimit.High, .. pair.Cells.Select(cell => cell.Difference)];
        ChartPlane plane = new(ChartScale.Linear(pair.Cells.Min(cell => cell.Mean), pair.Cells.Max(cell => cell.Mean)), ChartScale.Linear(ys.Min(), ys.Max()));
        string bias = Numbers.WithInterval(agreement.Bias.Value, agreement.Bias.Low, agreement.Bias.High);
        return Figure(
            "Agreement of the cells' darkness",
            plane.Drawing(
                "Agreement: difference of darkness over its mean", $"Mean difference {bias}.",
                Band(plane, agreement.LowerLimit), Band(plane, agreement.UpperLimit),
                plane.Axes("mean darkness of the two cells", "difference of darkness"),
                plane.Level(0, "axis"), plane.Level(agreement.Bias.Value, "limit centre"), plane.Level(agreement.LowerLimit.Value, "limit"), plane.Level(agreement.UpperLimit.Value, "limit"),
                pair.Cells.Select(cell => plane.Dot(cell.Mean, cell.Difference, cell.Difference, cell.Difference, cell.IsDifferent == true ? "dot weak" : "dot",
                    $"row {cell.Row + 1}, column {cell.Column + 1}: {Numbers.WithSign(cell.Difference, 2)}"))),
            $"{pair.Other} less {pair.Reference}, cell by cell. Solid line: mean difference {bias}. Dashed: limits of agreement, {Limit(agreement.LowerLimit)} and {Limit(agreement.UpperLimit)}; shaded: their 95 % intervals. Hollow: differs by more than chance. Two batches that need different energy differ most where the curve is steep.");
    }

    private static string Limit(Interval limit) => Numbers.WithInterval(limit.Value, limit.Low, limit.High);

    private static XElement Band(ChartPlane plane, Interval limit)
    {
        (Point top, Point bottom) = (plane.Held(plane.X.Low, limit.High), plane.Held(plane.X.Low, limit.Low));
        return Svg.Rect(top.X, top.Y, ChartPlane.PlotWidth, bottom.Y - top.Y, Svg.Class("band"));
    }

    private static XElement Figure(string name, XElement drawing, string caption) => new(
        "figure", new XElement("h3", name), Html.Scroller(name, fits: true, drawing), new XElement("figcaption", caption));
}
