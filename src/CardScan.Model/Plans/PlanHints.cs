namespace CardScan.Model;

/// <summary>What is allowed in a plan but seldom meant.</summary>
public static class PlanHints
{
    /// <summary>A focus this far from the usual place is taken for a choice that wants a second look, mm.</summary>
    private const double FocusToleranceMm = 0.5;

    /// <summary>Hints for whoever burns or reads the plan; none where its focus is the usual one, or an axis.</summary>
    /// <remarks>
    /// Focus for cutting sits about half the thickness below the surface, for engraving on the surface (common practice,
    /// no source).
    /// </remarks>
    public static ValueList<Advice> Of(Plan plan)
    {
        ArgumentNullException.ThrowIfNull(plan);
        if (plan.Columns.Setting == Setting.FocusOffsetMm || plan.Rows.Setting == Setting.FocusOffsetMm) return [];
        double focus = plan.Fixed.FocusOffsetMm ?? 0;
        if (plan.Process == Process.Engrave)
        {
            return Math.Abs(focus) <= FocusToleranceMm ? [] : [new("focus-unusual",
                $"the plan engraves with the focus {Words(focus)}; engraving usually has it on the surface: mean it, or set the focus offset to 0")];
        }

        if (plan.Material.ThicknessMm is not { } thickness || Math.Abs(focus + thickness / 2) <= FocusToleranceMm) return [];
        return [new("focus-unusual",
            $"the plan cuts {thickness:0.##} mm with the focus {Words(focus)}; cutting usually has it about half the thickness, {thickness / 2:0.##} mm, below: a card cut with the lower focus may need less power")];
    }

    private static string Words(double focusMm) =>
        focusMm == 0 ? "on the surface" : $"{Math.Abs(focusMm):0.##} mm {(focusMm < 0 ? "below" : "above")} the surface";
}
