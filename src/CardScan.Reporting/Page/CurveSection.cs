using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The dose–response curve; nothing where the model is none.</summary>
internal static class CurveSection
{
    public static XElement? Write(GridCells grid)
    {
        if (grid.Reading.Model?.Curve is not { } curve || CurveChart.Draw(grid, curve) is not { } chart) return null;
        return Html.Section(
            "curve", Voice.Say("page.curve.title"),
            new XElement(
                "figure",
                Html.Scroller(Voice.Say("page.curve.scroller"), fits: true, chart),
                new XElement("figcaption", Caption(grid.Reading))));
    }

    private static string Caption(Reading reading) => Voice.Say(
        "page.curve.caption",
        ("process", $"{reading.Plan.Process}"),
        ("numbers", Is(reading.Recommendations.Any(recommendation => recommendation.OwnCell is not null))),
        ("weak", Is(reading.Cells.Any(CurveChart.IsWeak))));
}
