using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>How a machine changed: what its cards tell, their chart, and the cards.</summary>
internal static class HistorySection
{
    private const int MostLabels = 12;

    /// <summary>Half of the width of a limit's mark, in cards.</summary>
    private const double HalfMark = 0.38;

    private static readonly string[] Headings =
    [
        "history.page.head-number", "history.page.head-day", "history.page.head-card", "history.page.head-energy",
        "history.page.head-limits", "history.page.head-reading",
    ];

    public static XElement Write(HistoryInput history, int index) => Html.Section(
        $"history-{index}", history.Heading,
        history.State.Select(sentence => Html.Paragraph(Html.Class("lead"), sentence)),
        history.Dots.Any(dot => dot.Energy is not null)
            ? new XElement(
                "figure",
                Html.Scroller(Voice.Say("history.page.scroller", ("heading", history.Heading)), fits: true, Draw(history)),
                new XElement("figcaption", Voice.Say("history.page.caption")))
            : null,
        history.Dots.Count > 0 ? Table(history) : null);

    private static XElement Draw(HistoryInput history)
    {
        (HistoryDot Dot, int X)[] dots =
            [.. history.Dots.Select((dot, i) => (dot, i + 1)).Where(each => each.dot.Energy is not null)];
        double[] ys =
        [
            1, .. dots.SelectMany(each => (double[])[each.Dot.Energy!.Low, each.Dot.Energy.High]),
            .. dots.Select(each => each.Dot.Limit).OfType<double>().SelectMany(limit => (double[])[limit, 1 / limit]),
        ];
        ChartPlane plane = new(ChartScale.Linear(0, history.Dots.Count + 1), ChartScale.Linear(ys.Min(), ys.Max()));
        int step = (history.Dots.Count + MostLabels - 1) / MostLabels;
        IEnumerable<(double, string)> ticks = Enumerable.Range(0, history.Dots.Count).Where(i => i % step == 0)
            .Select(i => (i + 1.0, (i + 1).ToString(CultureInfo.InvariantCulture)));
        return plane.Drawing(
            Voice.Say("history.page.alternative", ("heading", history.Heading), ("state", string.Join(' ', history.State))),
            plane.Axes(Voice.Say("history.page.number"), Voice.Say("history.page.energy"), ticks),
            plane.Level(1, "limit centre"),
            history.Dots.Select((dot, i) => dot.After is null ? null : plane.Upright(i + 0.5, "gridline", dot.After)),
            dots.SelectMany(each => Limits(plane, each.Dot, each.X)),
            Means(plane, dots),
            dots.Select(each => plane.Dot(
                each.X, each.Dot.Energy!.Value, each.Dot.Energy.Low, each.Dot.Energy.High, each.Dot.IsOutside ? "dot weak" : "dot",
                $"{each.Dot.Name}: {Voice.Tell(In(Unit.Factor, each.Dot.Energy.Value))}")));
    }

    private static IEnumerable<XElement> Limits(ChartPlane plane, HistoryDot dot, int x) => dot.Limit is not { } limit ? []
        : new[] { limit, 1 / limit }.Select(y => plane.Piece(x - HalfMark, x + HalfMark, y, "limit"));

    /// <summary>The running mean with its limits, a curve for each stretch of the machine.</summary>
    private static IEnumerable<XElement> Means(ChartPlane plane, (HistoryDot Dot, int X)[] dots)
    {
        List<CurvePoint> points = [];
        foreach ((HistoryDot dot, int x) in dots)
        {
            if (dot.After is not null)
            {
                foreach (XElement part in Drawn()) yield return part;
                points.Clear();
            }

            if (dot.Mean is { } mean) points.Add(new(x, mean.Value, mean.Low, mean.High));
        }

        foreach (XElement part in Drawn()) yield return part;

        IEnumerable<XElement> Drawn() => points.Count > 1 ? plane.Curve([.. points]) : [];
    }

    private static XElement Table(HistoryInput history) => Html.Scroller(
        Voice.Say("history.page.table", ("heading", history.Heading)), fits: false,
        new XElement(
            "table",
            Html.Head(Headings.Select(key => Voice.Say(key))),
            new XElement("tbody", history.Dots.Select((dot, i) => Rows(dot, i + 1)))));

    private static IEnumerable<XElement> Rows(HistoryDot dot, int number)
    {
        if (dot.After is { } after)
            yield return new("tr", new XElement("td", new XAttribute("colspan", Headings.Length), after));
        yield return new(
            "tr",
            Html.Heading("row", number),
            new XElement("td", dot.Day),
            new XElement("td", dot.Name),
            new XElement("td", dot.Energy is { } energy
                ? Voice.Tell(In(Unit.Factor, energy.Value, energy.Low, energy.High))
                : Voice.Say("history.page.only-one")),
            new XElement("td", dot.Limit is { } limit ? Html.Range(Numbers.Fixed(1 / limit, 2), Numbers.Fixed(limit, 2)) : "–"),
            new XElement("td", dot.Reading));
    }
}
