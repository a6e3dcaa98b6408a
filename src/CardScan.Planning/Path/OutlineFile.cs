using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>
/// Writes a dry run: the head traces the edge of the card and then the rectangle around all that is burned, with the beam off or as
/// a pointer.
/// </summary>
/// <remarks>
/// Words and their order as in <see cref="MachineFile"/>. With M3 the beam would stay on where the head rests, so it is on during
/// feed moves only. That M4 keeps it off at rest is common practice (from memory), and nothing here rests on it.
/// </remarks>
internal static class OutlineFile
{
    /// <summary>Slow enough to follow, fast enough to mark little at a pointer's power, mm/min (common practice, no source).</summary>
    private const double UsualFeedMmPerMin = 1500;

    /// <summary>Wavelengths that an eye sees, nm: those of IEC 60825-1 (from memory).</summary>
    private const double ShortestSeenNm = 400, LongestSeenNm = 700;

    /// <summary>Why a machine's beam cannot point, or null.</summary>
    internal static Refusal? Fault(Machine machine, double? pointerPercent) =>
        pointerPercent is not null && machine.WavelengthNm is { } nm and (< ShortestSeenNm or > LongestSeenNm)
            ? Refusal.OfInput(Codes.PointerInvisible, ("wavelength", In(Unit.Nm, nm)))
            : null;

    internal static string Of(Plan plan, BurnJob job, double? pointerPercent) =>
        MachineFile.Of(plan.Machine, Header(plan, job, pointerPercent), Lines(plan.Machine, job, pointerPercent));

    private static IEnumerable<string> Header(Plan plan, BurnJob job, double? pointerPercent)
    {
        Machine machine = plan.Machine;
        return
        [
            Voice.Say("planning.outline.card", ("number", plan.Number), ("burned", job.Frame.Kind)),
            Voice.Say("planning.machine-file.material", Known(
                ("material", plan.Material.Name), ("thickness", plan.Material.ThicknessMm is { } mm ? Mm(mm) : null))),
            .. plan.AcceptedRisk is { } risk ? (string[])[Voice.Say("planning.machine-file.risk", ("risk", risk))] : [],
            Voice.Say("planning.machine-file.machine",
                ("machine", machine.Name), ("watts", In(Unit.Watts, machine.RatedOpticalWatts)),
                ("full", Given(machine.FullPowerS!.Value))),
            Voice.Say("planning.machine-file.place",
                ("width", Mm(job.Frame.WidthMm)), ("height", Mm(job.Frame.HeightMm)), ("burned", job.Frame.Kind)),
            .. Reach(job),
            pointerPercent is not { } percent
                ? Voice.Say("planning.outline.off")
                : Voice.Say("planning.outline.pointer",
                    ("power", Power(percent)),
                    ("milliwatts", Given(Rounding.TwoFigures(percent / 100 * machine.RatedOpticalWatts * 1000))),
                    ("beam", machine.BeamMode == BeamMode.FollowsSpeed ? "follows-speed" : "constant")),
            .. Cautions.For(machine),
        ];
    }

    /// <summary>Run-ups lead the head beyond the card, where a clamp may stand.</summary>
    private static IEnumerable<string> Reach(BurnJob job)
    {
        TracedBox reach = TracedBox.Around(Strokes(job, isBurnedOnly: false));
        if (reach.RightMm <= job.Frame.WidthMm && reach.TopMm <= job.Frame.HeightMm) return [];
        return [Voice.Say("planning.outline.reach", ("x", Mm(Math.Ceiling(reach.RightMm))), ("y", Mm(Math.Ceiling(reach.TopMm))))];
    }

    private static IEnumerable<string> Lines(Machine machine, BurnJob job, double? pointerPercent) =>
    [
        "G21", "G90", "G94", "G17", "M5", "S0",
        .. Around(new(0, 0, job.Frame.WidthMm, job.Frame.HeightMm), machine, pointerPercent),
        .. Around(TracedBox.Around(Strokes(job, isBurnedOnly: true)), machine, pointerPercent),
        "M5", "S0", "G0 X0 Y0", "M2",
    ];

    /// <summary>A rectangle from its lower left corner to the right and back; the beam is off before and after it.</summary>
    private static IEnumerable<string> Around(TracedBox box, Machine machine, double? pointerPercent)
    {
        double feed = Math.Min(UsualFeedMmPerMin, machine.FastestFeedMmPerMin!.Value);
        string s = MachineFile.Exact((pointerPercent ?? 0) / 100 * machine.FullPowerS!.Value);
        MachinePoint[] corners = [new(box.RightMm, box.BottomMm), new(box.RightMm, box.TopMm), new(box.LeftMm, box.TopMm),
            new(box.LeftMm, box.BottomMm)];
        return
        [
            $"G0 {MachineFile.Place(corners[^1])}",
            .. pointerPercent is null ? Array.Empty<string>() : [machine.BeamMode == BeamMode.FollowsSpeed ? "M4 S0" : "M3 S0"],
            .. corners.Select(corner => $"G1 {MachineFile.Place(corner)} F{MachineFile.Exact(feed)} S{s}"),
            "M5",
        ];
    }

    private static IEnumerable<MachinePoint> Strokes(BurnJob job, bool isBurnedOnly) =>
        from piece in job.Pieces
        from stroke in piece.Strokes
        from part in stroke.Parts()
        where part.IsOn || !isBurnedOnly
        from point in (MachinePoint[])[part.From, part.To]
        select point;

    /// <summary>A rectangle in the machine's frame, mm.</summary>
    private readonly record struct TracedBox(double LeftMm, double BottomMm, double RightMm, double TopMm)
    {
        internal static TracedBox Around(IEnumerable<MachinePoint> points)
        {
            MachinePoint[] all = [.. points];
            return new(all.Min(p => p.XMm), all.Min(p => p.YMm), all.Max(p => p.XMm), all.Max(p => p.YMm));
        }
    }
}
