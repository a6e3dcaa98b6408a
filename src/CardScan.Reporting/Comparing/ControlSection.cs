using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The relative doses in their order, with control limits.</summary>
internal static class ControlSection
{
    private const int MostLabels = 12;

    private static readonly string[] Headings =
    [
        "page.compare.head-number", "page.compare.head-batch", "page.compare.head-taken", "page.compare.head-energy",
        "page.compare.head-interval", "page.compare.head-within",
    ];

    public static XElement? Write(Comparison comparison)
    {
        if (comparison.Chart is not { } chart) return null;
        string order = chart.Points.All(point => point.Taken is not null) ? "taken" : "given";
        return Html.Section(
            "chart", Voice.Say("page.compare.chart-title"),
            Html.Paragraph(Html.Class("lead"), chart.Finding),
            new XElement(
                "figure",
                Html.Scroller(Voice.Say("page.compare.chart-scroller"), fits: true, Draw(chart)),
                new XElement("figcaption", Voice.Say("page.compare.chart-caption", ("order", order)))),
            Table(chart, comparison.Batches[0].Label));
    }

    private static XElement Draw(ControlChart chart)
    {
        double[] ys =
            [chart.LowerLimit, chart.UpperLimit, .. chart.Points.Select(point => point.Low), .. chart.Points.Select(point => point.High)];
        ChartPlane plane = new(ChartScale.Linear(0, chart.Points.Count + 1), ChartScale.Linear(ys.Min(), ys.Max()));
        int step = (chart.Points.Count + MostLabels - 1) / MostLabels;
        IEnumerable<(double, string)> ticks = chart.Points.Index().Where(item => item.Index % step == 0)
            .Select(item => ((double)item.Index + 1, (item.Index + 1).ToString(CultureInfo.InvariantCulture)));
        return plane.Drawing(
            Voice.Say("page.compare.chart-alternative", ("finding", chart.Finding)),
            plane.Axes(Voice.Say("page.compare.chart-number"), Voice.Say("page.compare.chart-energy"), ticks),
            plane.Level(chart.Centre, "limit centre"), plane.Level(chart.LowerLimit, "limit"), plane.Level(chart.UpperLimit, "limit"),
            chart.Points.Select((point, i) => plane.Dot(
                i + 1, point.Value, point.Low, point.High, point.IsOutside ? "dot weak" : "dot",
                Voice.Say("page.compare.chart-tip", ("batch", point.Label), ("value", In(Unit.Factor, point.Value))))));
    }

    private static XElement Table(ControlChart chart, string reference) => Html.Scroller(
        Voice.Say("page.compare.chart-table"), fits: false,
        new XElement(
            "table",
            Html.Head(Headings.Select(key => Voice.Say(key))),
            new XElement("tbody", chart.Points.Select((point, i) => Row(point, i + 1, point.Label == reference)))));

    private static XElement Row(ControlPoint point, int number, bool isReference) => new(
        "tr",
        Html.Heading("row", number),
        new XElement("td", point.Label),
        new XElement("td", point.Taken?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "–"),
        new XElement("td", Voice.Tell(In(Unit.Factor, point.Value))),
        new XElement("td", isReference
            ? Voice.Say("page.compare.the-reference")
            : Html.Range(Numbers.Fixed(point.Low, 2), Numbers.Fixed(point.High, 2))),
        new XElement("td", Voice.Say("page.compare.within", ("outside", Is(point.IsOutside)))));
}
