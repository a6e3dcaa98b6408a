using CardScan.Language;
using static CardScan.Language.Figures;

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
            return Math.Abs(focus) <= FocusToleranceMm ? [] : [Unusual("engrave", focus)];
        if (plan.Material.ThicknessMm is not { } thickness || Math.Abs(focus + thickness / 2) <= FocusToleranceMm) return [];
        return [Unusual("cut", focus, ("thickness", Mm(thickness)), ("usual", Mm(thickness / 2)))];
    }

    private static Advice Unusual(string process, double focusMm, params (string, Figure)[] usual) => new(Codes.FocusUnusual,
    [
        ("process", process), ("focus", Mm(Math.Abs(focusMm))),
        ("where", focusMm switch { 0 => "surface", < 0 => "below", _ => "above" }), .. usual,
    ]);
}
