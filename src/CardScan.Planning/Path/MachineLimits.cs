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

    /// <summary>Larger files are not for a test card, bytes (chosen here; a card of 100 filled cells takes about 1 MB).</summary>
    private const double MostBytes = 20e6;

    /// <summary>A line of a fill takes about so much of the file, bytes.</summary>
    private const double BytesOfLine = 60;

    /// <summary>Lines are never closer than this share of the beam's width.</summary>
    private const double ClosestLines = 0.25;

    /// <summary>Width of a beam that the machine's profile does not tell, mm (common practice for diodes, no source).</summary>
    private const double UsualBeamMm = 0.08;

    /// <summary>What a machine file needs and the machine's profile does not tell, in words; empty where nothing is missing.</summary>
    internal static Figure[] Missing(Machine machine) =>
    [
        .. machine.WorkArea is null ? (Figure[])[new Phrase("planning.missing.work-area")] : [],
        .. machine.FastestFeedMmPerMin is null ? (Figure[])[new Phrase("planning.missing.fastest-feed")] : [],
        .. machine.FullPowerS is null ? (Figure[])[new Phrase("planning.missing.full-power")] : [],
    ];

    /// <summary>What of the plan the machine cannot do, or null; what its profile does not tell cannot be held against it.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="isSizeGiven">True where a person gave the card's size, which then is what to change.</param>
    internal static Refusal? FirstFault(Plan plan, bool isSizeGiven = false) =>
        AreaFault(plan, isSizeGiven) ?? SpeedFault(plan) ?? FocusFault(plan) ?? LinesFault(plan) ?? SizeFault(RoughSize(plan));

    /// <summary>Refuses a machine file that controllers and their senders choke on.</summary>
    /// <param name="bytes">Its size, exact or about right.</param>
    internal static Refusal? SizeFault(double bytes) => bytes <= MostBytes ? null
        : Refusal.OfInput(Codes.MachineFileSize, ("size", In(Unit.Bytes, bytes)), ("most", In(Unit.Bytes, MostBytes)));

    /// <summary>True where the size of the machine file has to be known exactly before it can be said that it is not too large.</summary>
    internal static bool MayBeTooLarge(Plan plan) => RoughSize(plan) > MostBytes / 2;

    /// <summary>Lines so close burn the same place again and again; a slipped decimal point was meant.</summary>
    private static Refusal? LinesFault(Plan plan)
    {
        if (plan.Cells.Min(cell => plan.SettingsOf(cell).LineIntervalMm) is not { } closest) return null;
        double beam = plan.Machine.BeamYMm ?? UsualBeamMm, least = ClosestLines * beam;
        return closest >= least ? null : Refusal.OfInput(Codes.MachineLines, Known(
            ("interval", Given(closest)), ("least", Mm(least)), ("beam", Mm(beam)),
            ("known", plan.Machine.BeamYMm is null ? "no" : "yes")));
    }

    /// <summary>About the size of the machine file, before anything of it is made, bytes.</summary>
    private static double RoughSize(Plan plan)
    {
        if (plan.Burning?.Marks.LineIntervalMm is not { } interval) return 0;
        double ofMarkers = BurnFrame.BurnedMarkers(plan).Count() * plan.Fiducials.SideMm / interval;
        return (ofMarkers + plan.Cells.Sum(cell => LinesOf(plan, cell))) * BytesOfLine;
    }

    private static double LinesOf(Plan plan, Cell cell)
    {
        CellSettings settings = plan.SettingsOf(cell);
        double once = cell.Lines?.Count ?? (settings.LineIntervalMm is { } interval ? cell.HeightMm / interval : 1);
        return once * settings.Passes;
    }

    private static Refusal? AreaFault(Plan plan, bool isSizeGiven)
    {
        BurnFrame frame = BurnFrame.Of(plan);
        return plan.Machine.WorkArea is { } area && (frame.WidthMm > area.WidthMm || frame.HeightMm > area.HeightMm)
            ? Refusal.OfInput(Codes.MachineArea, ("burned", frame.Kind), ("width", Mm(frame.WidthMm)), ("height", Mm(frame.HeightMm)),
                ("area-width", Mm(area.WidthMm)), ("area-height", Mm(area.HeightMm)), ("given", Is(isSizeGiven)))
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
        double step = plan.Fixed.FocusStepMm ?? 0;
        double[] offsets =
        [
            .. plan.Cells.Select(plan.SettingsOf)
                .SelectMany(cell => (double[])[cell.FocusOffsetMm, Math.Round(cell.FocusOffsetMm - (cell.Passes - 1) * step, 6)]),
        ];
        double[] outside = [.. offsets.Where(mm => mm < travel.LowestMm || mm > travel.HighestMm)];
        return outside.Length == 0
            ? null
            : Refusal.OfInput(
                Codes.MachineFocus, ("focus", Mm(outside[0])), ("lowest", Mm(travel.LowestMm)), ("highest", Mm(travel.HighestMm)));
    }
}
