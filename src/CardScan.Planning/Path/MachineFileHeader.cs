using CardScan.Model;

namespace CardScan.Planning;

/// <summary>The comment at the head of a machine file.</summary>
internal static class MachineFileHeader
{
    internal static IEnumerable<string> Of(Plan plan, BurnJob job, BurnEstimate estimate) =>
    [
        $"CARD {plan.Number}{(plan.Title.Length > 0 ? $": {plan.Title}" : "")}",
        $"MATERIAL: {plan.Material.Name}{(plan.Material.ThicknessMm is { } mm ? $", {mm} mm" : "")}",
        $"MACHINE: {plan.Machine.Name}, {plan.Machine.RatedOpticalWatts} W optical, S{plan.Machine.FullPowerS} is full power",
        $"TIME: about {estimate.TimeInWords()}. ENERGY: {estimate.Joules:0} J optical",
        .. plan.AcceptedRisk is { } risk ? (string[])[$"ACCEPTED RISK OF THE MATERIAL: {risk}"] : [],
        $"PLACE: the lower left corner of the {job.Frame.WidthMm} x {job.Frame.HeightMm} mm {(plan.Frame is null ? "card" : "piece")} lies at X0 Y0, x to the right, y away from the front",
        plan.Machine.PoweredZ is null
            ? "FOCUS: on the surface at the start; where it changes, the job stops and says how far to turn, up to every place, and back to the surface at the end"
            : "FOCUS: Z0 is where the focus lies on the surface",
        plan.Machine.BeamMode == BeamMode.FollowsSpeed
            ? "BEAM: M4, power follows the speed; the controller must be in its laser mode"
            : "BEAM: M3, the same power at any speed",
        .. Cautions.For(plan.Machine),
    ];
}
