using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The relative doses in their order, with control limits.</summary>
internal static class ControlSection
{
    private const int MostLabels = 12;

    private static readonly string[] Headings = ["No.", "Batch", "Photographed", "Energy over that of the reference", "95 % interval", "Within the limits"];

    public static XElement? Write(Comparison comparison)
    {
        if (comparison.Chart is not { } chart) return null;
        string order = chart.Points.All(point => point.Taken is not null) ? "in the order in which they were photographed" : "in the order given";
        return Html.Section(
            "chart", "One after the other",
            Html.Paragraph(Html.Class("lead"), chart.Finding),
            new XElement(
                "figure",
                Html.Scroller("Chart of the relative doses", fits: true, Draw(chart)),
                new XElement("figcaption", $"Dots: energy needed over that of the reference, {order}, with 95 % intervals. Solid line: their mean; dashed: control limits, 3 standard deviations by the mean moving range (individuals chart). Hollow: outside the limits.")),
            Table(chart, comparison.Batches[0].Label));
    }

    private static XElement Draw(ControlChart chart)
    {
        double[] ys = [chart.LowerLimit, chart.UpperLimit, .. chart.Points.Select(point => point.Low), .. chart.Points.Select(point => point.High)];
        ChartPlane plane = new(ChartScale.Linear(0, chart.Points.Count + 1), ChartScale.Linear(ys.Min(), ys.Max()));
        int step = (chart.Points.Count + MostLabels - 1) / MostLabels;
        return plane.Drawing(
            "Relative dose, one after the other", chart.Finding,
            plane.Axes("number in the table", "energy over that of the reference", chart.Points.Index().Where(item => item.Index % step == 0)
                .Select(item => ((double)item.Index + 1, (item.Index + 1).ToString(CultureInfo.InvariantCulture)))),
            plane.Level(chart.Centre, "limit centre"), plane.Level(chart.LowerLimit, "limit"), plane.Level(chart.UpperLimit, "limit"),
            chart.Points.Select((point, i) => plane.Dot(i + 1, point.Value, point.Low, point.High, point.IsOutside ? "dot weak" : "dot", $"{point.Label}: {Numbers.Fixed(point.Value, 2)}")));
    }

    private static XElement Table(ControlChart chart, string reference) => Html.Scroller(
        "Table of the relative doses", fits: false,
        new XElement(
            "table",
            new XElement("thead", new XElement("tr", Headings.Select(text => Html.Heading("col", text)))),
            new XElement("tbody", chart.Points.Select((point, i) => new XElement(
                "tr",
                Html.Heading("row", i + 1),
                new XElement("td", point.Label),
                new XElement("td", point.Taken?.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture) ?? "–"),
                new XElement("td", $"{Numbers.Fixed(point.Value, 2)}×"),
                new XElement("td", point.Label == reference ? "the reference" : $"{Numbers.Fixed(point.Low, 2)} to {Numbers.Fixed(point.High, 2)}"),
                new XElement("td", point.IsOutside ? "no" : "yes"))))));
}
