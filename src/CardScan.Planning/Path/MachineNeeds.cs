using CardScan.Model;

namespace CardScan.Planning;

/// <summary>What the paths need to know of a machine, with what is taken where its profile does not tell.</summary>
/// <param name="WidthMm">Work area, mm; without end where not known.</param>
/// <param name="HeightMm">Likewise.</param>
/// <param name="FastestMmPerMin">Fastest feed, and the speed of travels.</param>
/// <param name="AccelerationMmPerS2">Acceleration.</param>
/// <param name="Mode">How power behaves while the machine gains and loses speed.</param>
/// <param name="TurnsFocusByHand">Whether the focus is set by a hand.</param>
internal sealed record MachineNeeds(
    double WidthMm, double HeightMm, double FastestMmPerMin, double AccelerationMmPerS2, BeamMode Mode, bool TurnsFocusByHand)
{
    /// <summary>Acceleration where the profile gives none, mm/s² (common practice for belt-driven machines, no source).</summary>
    internal const double UsualAccelerationMmPerS2 = 500;

    /// <summary>Fastest feed where the profile gives none, mm/min (common practice, no source).</summary>
    internal const double UsualFastestMmPerMin = 6000;

    internal static MachineNeeds Of(Machine machine) => new(
        machine.WorkArea?.WidthMm ?? double.PositiveInfinity,
        machine.WorkArea?.HeightMm ?? double.PositiveInfinity,
        machine.FastestFeedMmPerMin ?? UsualFastestMmPerMin,
        machine.AccelerationMmPerS2 ?? UsualAccelerationMmPerS2,
        machine.BeamMode ?? BeamMode.Constant,
        machine.PoweredZ is null);

    /// <summary>Way the machine needs to reach a feed from rest, v² / 2a, mm.</summary>
    internal double RunUpMm(double speedMmPerMin) => speedMmPerMin / 60 * (speedMmPerMin / 60) / (2 * AccelerationMmPerS2);
}
