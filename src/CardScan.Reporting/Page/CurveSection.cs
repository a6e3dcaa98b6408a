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
            "curve", "Dose and response",
            new XElement(
                "figure",
                Html.Scroller("Dose–response curve", fits: true, chart),
                new XElement("figcaption", Caption(grid.Reading))));
    }

    private static string Caption(Reading reading)
    {
        string bars = reading.Plan.Process == Process.Cut ? "" : " Bars: ± 1 standard error.";
        string weak = reading.Cells.Any(cell => CellWords.IsLeftOut(cell) || cell.Flags.Contains(CellFlag.Outlier))
            ? " Hollow: left out, or given little weight." : "";
        string numbers = reading.Recommendations.Any(recommendation => recommendation.OwnCell is not null) ? " Numbered discs: recommended cells." : "";
        return $"Dots: the cells.{bars}{numbers}{weak} Line: the fitted curve; shaded: its 95 % band.";
    }
}
