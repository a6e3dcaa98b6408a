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
            $"curves-{index + 1}",
            Voice.Say("page.compare.curves-title", isOneOfMany ? [("batch", pair.Other)] : Array.Empty<(string, Figure)>()),
            new XElement("div", Html.Class("pair"), figures));
    }

    private static XElement? Curves(ComparedPair pair)
    {
        if (pair.Curves.Count != 2) return null;
        ChartPoint[] all = [.. pair.Curves.SelectMany(curve => curve.Points.Concat(curve.Cells))];
        ChartPlane plane = new(
            ChartScale.For(all.Min(point => point.X), all.Max(point => point.X)), ChartScale.Linear(0, all.Max(point => point.Y)));
        List<(string, Figure)> names = [("reference", pair.Reference), ("other", pair.Other)];
        string result = Voice.Say("page.curve.result", ("process", $"{Process.Engrave}"));
        XElement drawing = plane.Drawing(
            Voice.Say("page.compare.curves-alternative", names),
            plane.Axes(pair.Curves[0].Abscissa, result),
            pair.Curves.Select((curve, i) => Line(plane, curve, i == 0 ? "curve" : "curve other")),
            pair.Curves.Select((curve, i) => Dots(plane, curve, i == 0 ? "dot" : "dot weak")));
        if (pair.RelativeDose is { } dose) names.Add(("factor", In(Unit.Factor, dose.Value)));
        return Figure(Voice.Say("page.compare.curves"), drawing, Voice.Say("page.compare.curves-caption", names));
    }

    private static XElement Line(ChartPlane plane, ComparedCurve curve, string name)
    {
        ValueList<Point> points = curve.Points.Select(point => plane.Held(point.X, point.Y)).ToValueList();
        return new("path", new XAttribute("d", MarkSvg.Path(points, isClosed: false)), Svg.Class(name));
    }

    private static IEnumerable<XElement> Dots(ChartPlane plane, ComparedCurve curve, string name) => curve.Cells.Select(cell => plane.Dot(
        cell.X, cell.Y, cell.Y, cell.Y, name,
        Voice.Say("page.compare.chart-tip", ("batch", curve.Label), ("value", In(Unit.Contrast, cell.Y)))));

    private static XElement? Agreement(ComparedPair pair)
    {
        if (pair.Agreement is not { } agreement) return null;
        double[] ys = [0, agreement.LowerLimit.Low, agreement.UpperLimit.High, .. pair.Cells.Select(cell => cell.Difference)];
        ChartPlane plane = new(
            ChartScale.Linear(pair.Cells.Min(cell => cell.Mean), pair.Cells.Max(cell => cell.Mean)), ChartScale.Linear(ys.Min(), ys.Max()));
        (string, Figure) bias = ("bias", Density(agreement.Bias));
        XElement drawing = plane.Drawing(
            Voice.Say("page.compare.agreement-alternative", bias),
            Band(plane, agreement.LowerLimit), Band(plane, agreement.UpperLimit),
            plane.Axes(Voice.Say("page.compare.agreement-x"), Voice.Say("page.compare.agreement-y")),
            plane.Level(0, "axis"), plane.Level(agreement.Bias.Value, "limit centre"),
            plane.Level(agreement.LowerLimit.Value, "limit"), plane.Level(agreement.UpperLimit.Value, "limit"),
            pair.Cells.Select(cell => Dot(plane, cell)));
        return Figure(Voice.Say("page.compare.agreement"), drawing, Voice.Say(
            "page.compare.agreement-caption",
            ("other", pair.Other), ("reference", pair.Reference), bias,
            ("lower", Density(agreement.LowerLimit)), ("upper", Density(agreement.UpperLimit))));
    }

    private static XElement Dot(ChartPlane plane, CellDifference cell) => plane.Dot(
        cell.Mean, cell.Difference, cell.Difference, cell.Difference, cell.IsDifferent == true ? "dot weak" : "dot",
        Voice.Say(
            "page.compare.cell-tip", ("place", GridCells.Place(cell.Row, cell.Column)), ("value", Numbers.WithSign(cell.Difference, 2))));

    private static Number Density(Interval interval) => In(Unit.Density, interval.Value, interval.Low, interval.High);

    private static XElement Band(ChartPlane plane, Interval limit)
    {
        (Point top, Point bottom) = (plane.Held(plane.X.Low, limit.High), plane.Held(plane.X.Low, limit.Low));
        return Svg.Rect(top.X, top.Y, ChartPlane.PlotWidth, bottom.Y - top.Y, Svg.Class("band"));
    }

    private static XElement Figure(string name, XElement drawing, string caption) => new(
        "figure", new XElement("h3", name), Html.Scroller(name, fits: true, drawing), new XElement("figcaption", caption));
}
