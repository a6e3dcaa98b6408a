using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>Plans of cut cards.</summary>
internal static class Plans
{
    /// <summary>The engraved test plan, cut: cells of 8 mm every 16 mm across and 17 mm down, the first at (24, 20).</summary>
    /// <param name="thicknessMm">Thickness that the plan gives, mm; null gives none.</param>
    public static PlanFile Cut(double? thicknessMm = 3)
    {
        PlanFile engraved = TestPlans.Engraved();
        return engraved with
        {
            Plan = engraved.Plan with
            {
                Process = Process.Cut,
                Material = new() { Name = "grey board", ThicknessMm = thicknessMm },
                Fixed = new() { Passes = 1 },
            },
        };
    }
}
