using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The page, from top to bottom.</summary>
internal static class ReportPage
{
    public static string Write(ReportInput input)
    {
        Reading reading = input.Reading;
        GridCells grid = new(reading);
        if (reading.Plan.IsPrinted) return PageShell.Write(ShownPlan.Title(reading.Plan), OfStrip(input, grid), Footer(reading));
        XElement main = new(
            "main",
            TitleSection.Write(reading),
            reading.Plan.Kind == CardKind.FocusLadder ? FocusSection.Write(reading) : RecommendationSection.Write(reading),
            AdviceSection.Write(reading),
            PhotoSection.Write(input),
            GridSection.Write(grid),
            CurveSection.Write(grid),
            ToneSection.Write(grid),
            KerfSection.Write(grid),
            CellTable.Write(reading),
            QualitySection.Write(reading),
            ModelSection.Write(reading),
            CautionSection.Write(reading.Plan));
        return PageShell.Write(ShownPlan.Title(reading.Plan), main, Footer(reading));
    }

    /// <summary>What was printed has no settings, no energy and no cautions.</summary>
    private static XElement OfStrip(ReportInput input, GridCells grid) => new(
        "main", TitleSection.Write(input.Reading), AdviceSection.Write(input.Reading), PhotoSection.Write(input), GridSection.Write(grid),
        CellTable.Write(input.Reading), QualitySection.Write(input.Reading));

    private static XElement Footer(Reading reading) => new("footer", Html.Paragraph(Voice.Say("page.footer",
    [
        ("number", reading.Plan.Number), .. reading.PlanSha256 is { Length: > 0 } hash ? [("hash", hash)] : Array.Empty<(string, Figure)>(),
    ])));
}
