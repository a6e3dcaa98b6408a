namespace CardScan.Model;

/// <summary>How much energy a card needed: for half of its strongest mark, or for cuts of which half are through.</summary>
/// <param name="LnEnergy">ln of it at <paramref name="SpeedMmPerMin"/>: J/mm² of engraved cards, J/mm of cut ones.</param>
/// <param name="StandardError">Of that, by the card's own cells.</param>
/// <param name="SpeedMmPerMin">The card's middle speed, mm/min.</param>
/// <param name="SpeedExponent">β: the effect goes with power over speed to this power; 1 where the card does not tell.</param>
/// <param name="SpeedExponentError">Standard error of β.</param>
/// <remarks>docs/method/history.md. The half is known better than either end: it lies where the curve is steepest.</remarks>
public sealed record EnergyNeed(
    double LnEnergy, double StandardError, double SpeedMmPerMin, double SpeedExponent, double SpeedExponentError)
{
    /// <summary>The same at another speed, which the error of β makes less sure.</summary>
    /// <param name="speedMmPerMin">The speed, mm/min.</param>
    public EnergyNeed At(double speedMmPerMin)
    {
        double lnSpeed = Math.Log(speedMmPerMin / SpeedMmPerMin);
        return this with
        {
            LnEnergy = LnEnergy + (SpeedExponent - 1) * lnSpeed,
            StandardError = double.Hypot(StandardError, SpeedExponentError * lnSpeed),
            SpeedMmPerMin = speedMmPerMin,
        };
    }
}
