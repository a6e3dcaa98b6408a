using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The dose–response curve and the model behind it.</summary>
internal static class CurveSection
{
    public static XElement? Write(GridCells grid)
    {
        if (grid.Reading.Model is not { } model) return null;
        XElement? chart = model.Curve is { } curve ? CurveChart.Draw(grid, curve) : null;
        return Html.Section(
            "curve", "Dose and response",
            new XElement(
                "div",
                Html.Class("pair"),
                chart is null
                    ? Html.Paragraph("This model is no curve that could be drawn.")
                    : new XElement(
                        "figure",
                        Html.Scroller("Dose–response curve", fits: true, chart),
                        new XElement("figcaption", Caption(grid.Reading))),
                Parameters(model)));
    }

    private static string Caption(Reading reading)
    {
        string bars = reading.Plan.Process == Process.Cut ? "" : " Bars: ± 1 standard error.";
        string weak = reading.Cells.Any(cell => CellWords.IsLeftOut(cell) || cell.Flags.Contains(CellFlag.Outlier))
            ? " Hollow: left out, or given little weight." : "";
        string numbers = reading.Recommendations.Any(recommendation => recommendation.Cell is not null) ? " Numbered discs: recommended cells." : "";
        return $"Dots: the cells.{bars}{numbers}{weak} Line: the fitted curve; shaded: its 95 % band.";
    }

    private static XElement Parameters(FittedModel model) => new(
        "details",
        new XAttribute("open", "open"),
        new XElement("summary", "The fitted model: ", model.Name),
        Html.Facts(
        [
            .. model.Parameters.Select(parameter => (parameter.Key, Numbers.WithError(parameter.Value))),
            .. model.Diagnostics.Select(diagnostic => (Sentence.Capital(Sentence.FromCode(diagnostic.Key)), Numbers.Significant(diagnostic.Value, 4))),
        ]));
}
