using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>The comment at the head of a machine file.</summary>
internal static class MachineFileHeader
{
    internal static IEnumerable<string> Of(Plan plan, BurnJob job, BurnEstimate estimate)
    {
        (Machine machine, Material material) = (plan.Machine, plan.Material);
        return
        [
            Voice.Say("planning.machine-file.card",
                Known(("number", plan.Number), ("title", Text(plan.Title)))),
            Voice.Say("planning.machine-file.material",
                Known(("material", material.Name), ("thickness", material.ThicknessMm is { } mm ? Mm(mm) : null))),
            Voice.Say("planning.machine-file.machine",
                ("machine", machine.Name), ("watts", In(Unit.Watts, machine.RatedOpticalWatts)),
                ("full", Given(machine.FullPowerS!.Value))),
            Voice.Say("planning.machine-file.time", ("time", estimate.Time), ("energy", In(Unit.Joules, estimate.Joules))),
            .. plan.AcceptedRisk is { } risk ? (string[])[Voice.Say("planning.machine-file.risk", ("risk", risk))] : [],
            Voice.Say("planning.machine-file.place",
                ("width", Mm(job.Frame.WidthMm)), ("height", Mm(job.Frame.HeightMm)), ("burned", job.Frame.Kind)),
            Voice.Say("planning.machine-file.focus", ("focus", FocusOf(plan, estimate)), ("stops", estimate.HandStops)),
            Voice.Say("planning.machine-file.beam", ("beam", BeamOf(machine))),
            .. plan.Fixed.AirAssist is { } air
                ? (string[])[Voice.Say("planning.machine-file.air", ("air", air.ToFigure()), ("way", AirWay(air, machine)))]
                : [],
            .. Cautions.For(machine),
        ];
    }

    /// <summary>Stops are announced only where there are some.</summary>
    private static string FocusOf(Plan plan, BurnEstimate estimate) => plan.Machine.PoweredZ is not null ? "powered"
        : estimate.HandStops > 0 ? "by-hand"
        : "still";

    private static string BeamOf(Machine machine) => machine.BeamMode switch
    {
        BeamMode.FollowsSpeed => "follows-speed",
        BeamMode.FromRest => "from-rest",
        _ => "constant",
    };

    private static string AirWay(AirAssist air, Machine machine) =>
        machine.AirSwitch is AirSwitch.M7 or AirSwitch.M8 ? "file" : air.IsOn ? "hand-on" : "hand-off";
}
