using CardScan.Model;
using CardScan.Vision.Tests.BackLight;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>The renderer's test card (five powers by four speeds) by process, number and size of its cells.</summary>
internal static class TestCards
{
    public static PlanFile Of(Process process, int number, double cellMm, double thicknessMm)
    {
        Plan numbered = TestPlans.Engraved(number).Plan;
        Plan cut = Plans.Cut(Math.Round(thicknessMm, 1)).Plan;
        Plan plan = (process == Process.Cut ? cut with { Number = number, Fiducials = numbered.Fiducials } : numbered) with
        {
            Cells = [.. TestPlans.WithCellsOf(cellMm).Plan.Cells],
        };
        return new(plan, CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan))));
    }
}
