using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Holds a plan against what its machine can do.</summary>
internal static class MachineLimits
{
    /// <summary>
    /// Slower than this nothing is marked or cut but set on fire, and a thousands point was meant, mm/min (common practice, no
    /// source).
    /// </summary>
    internal const double SlowestMmPerMin = 10;

    /// <summary>What a machine file needs and the machine's profile does not tell, in words; empty where nothing is missing.</summary>
    internal static Figure[] Missing(Machine machine) =>
    [
        .. machine.WorkArea is null ? (Figure[])[new Phrase("planning.missing.work-area")] : [],
        .. machine.FastestFeedMmPerMin is null ? (Figure[])[new Phrase("planning.missing.fastest-feed")] : [],
        .. machine.FullPowerS is null ? (Figure[])[new Phrase("planning.missing.full-power")] : [],
    ];

    /// <summary>What of the plan the machine cannot do, or null; what its profile does not tell cannot be held against it.</summary>
    internal static Refusal? FirstFault(Plan plan) => AreaFault(plan) ?? SpeedFault(plan) ?? FocusFault(plan);

    private static Refusal? AreaFault(Plan plan)
    {
        BurnFrame frame = BurnFrame.Of(plan);
        return plan.Machine.WorkArea is { } area && (frame.WidthMm > area.WidthMm || frame.HeightMm > area.HeightMm)
            ? Refusal.OfInput(Codes.MachineArea, ("burned", frame.Kind), ("width", Mm(frame.WidthMm)), ("height", Mm(frame.HeightMm)),
                ("area-width", Mm(area.WidthMm)), ("area-height", Mm(area.HeightMm)))
            : null;
    }

    private static Refusal? SpeedFault(Plan plan)
    {
        double fastest = plan.Cells.Max(cell => plan.SettingsOf(cell).SpeedMmPerMin);
        double slowest = plan.Cells.Min(cell => plan.SettingsOf(cell).SpeedMmPerMin);
        if (slowest < SlowestMmPerMin)
            return Refusal.OfInput(Codes.MachineSpeed, ("fault", "slow"), ("speed", Given(slowest)), ("slowest", Speed(SlowestMmPerMin)));
        if (plan.Machine.FastestFeedMmPerMin is not { } most) return null;
        if (fastest > most) return TooFast("fast", fastest, most);
        return plan.Burning?.Marks.SpeedMmPerMin is { } marks && marks > most ? TooFast("marks", marks, most) : null;
    }

    private static Refusal TooFast(string fault, double mmPerMin, double mostMmPerMin) =>
        Refusal.OfInput(Codes.MachineSpeed, ("fault", fault), ("speed", Speed(mmPerMin)), ("fastest", Speed(mostMmPerMin)));

    private static Refusal? FocusFault(Plan plan)
    {
        if (plan.Machine.PoweredZ is not { } travel) return null;
        double[] offsets = [.. plan.Cells.Select(cell => plan.SettingsOf(cell).FocusOffsetMm)];
        double[] outside = [.. offsets.Where(mm => mm < travel.LowestMm || mm > travel.HighestMm)];
        return outside.Length == 0
            ? null
            : Refusal.OfInput(
                Codes.MachineFocus, ("focus", Mm(outside[0])), ("lowest", Mm(travel.LowestMm)), ("highest", Mm(travel.HighestMm)));
    }
}
