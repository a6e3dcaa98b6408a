using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Holds a plan against what its machine can do.</summary>
internal static class MachineLimits
{
    /// <summary>Slower than this nothing is marked or cut but set on fire, and a thousands point was meant, mm/min (common practice, no source).</summary>
    internal const double SlowestMmPerMin = 10;

    /// <summary>What a machine file needs and the machine's profile does not tell, in words; empty where nothing is missing.</summary>
    internal static string[] Missing(Machine machine) =>
    [
        .. machine.WorkArea is null ? (string[])["work area"] : [],
        .. machine.FastestFeedMmPerMin is null ? (string[])["fastest safe feed"] : [],
        .. machine.FullPowerS is null ? (string[])["S value of full power"] : [],
    ];

    /// <summary>What of the plan the machine cannot do, or null; what its profile does not tell cannot be held against it.</summary>
    internal static Refusal? FirstFault(Plan plan) => AreaFault(plan) ?? SpeedFault(plan) ?? FocusFault(plan);

    private static Refusal? AreaFault(Plan plan)
    {
        BurnFrame frame = BurnFrame.Of(plan);
        return plan.Machine.WorkArea is { } area && (frame.WidthMm > area.WidthMm || frame.HeightMm > area.HeightMm)
            ? Refusal.OfInput("machine-area",
                $"the {(plan.Frame is null ? "card" : "grid")} is {frame.WidthMm:0.###} × {frame.HeightMm:0.###} mm and the machine's work area {area.WidthMm:0.###} × {area.HeightMm:0.###} mm",
                "give fewer values or a smaller --cell")
            : null;
    }

    private static Refusal? SpeedFault(Plan plan)
    {
        double fastest = plan.Cells.Max(cell => plan.SettingsOf(cell).SpeedMmPerMin);
        double slowest = plan.Cells.Min(cell => plan.SettingsOf(cell).SpeedMmPerMin);
        if (slowest < SlowestMmPerMin) return Refusal.OfInput("machine-speed", $"--speed has {slowest} mm/min", $"give at least {SlowestMmPerMin} mm/min, since a slower beam sets fire; 1.000 is one, not a thousand");
        if (plan.Machine.FastestFeedMmPerMin is not { } most) return null;
        if (fastest > most) return Refusal.OfInput("machine-speed", $"--speed has {fastest} mm/min, and the machine's fastest safe feed is {most} mm/min", "give less");
        return plan.Burning?.Marks.SpeedMmPerMin > most
            ? Refusal.OfInput("machine-speed", $"markers and labels are to be burned at {plan.Burning.Marks.SpeedMmPerMin} mm/min, and the machine's fastest safe feed is {most} mm/min", "give a lower --mark-speed")
            : null;
    }

    private static Refusal? FocusFault(Plan plan)
    {
        if (plan.Machine.PoweredZ is not { } travel) return null;
        double[] outside = [.. plan.Cells.Select(cell => plan.SettingsOf(cell).FocusOffsetMm).Where(mm => mm < travel.LowestMm || mm > travel.HighestMm)];
        return outside.Length == 0
            ? null
            : Refusal.OfInput("machine-focus", $"--focus-offset has {outside[0]} mm, and the machine's Z axis goes from {travel.LowestMm} to {travel.HighestMm} mm", "give offsets inside that");
    }
}
