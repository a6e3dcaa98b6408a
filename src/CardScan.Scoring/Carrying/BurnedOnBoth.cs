using CardScan.Model;

namespace CardScan.Scoring.Carrying;

/// <summary>A material that was burned on both machines.</summary>
/// <param name="Name">Its name.</param>
/// <param name="LnFactor">ln of the energy that the new machine needs for the same effect, over that of the old one.</param>
/// <param name="StandardError">Of that.</param>
public sealed record BurnedOnBoth(string Name, double LnFactor, double StandardError)
{
    /// <summary>Least error of what a card tells of a sheet, ln of energy: pieces of one sheet differ (as cards scored together).</summary>
    internal const double LeastError = 0.03;

    /// <summary>Variance of ln of the energy from delivery to delivery of one name (as the first card is planned).</summary>
    internal static readonly double DeliveryVariance = Math.Pow(Math.Log(KeptSetting.AgreeingFactor), 2);

    /// <summary>By the comparison of a card on each machine.</summary>
    /// <param name="name">The material's name.</param>
    /// <param name="dose">What the new machine's card needs, over the old one's.</param>
    /// <param name="isOneDelivery">True where both cards are known to be of one delivery: then none tells its own alone.</param>
    /// <exception cref="ArgumentNullException">There is no dose.</exception>
    public static BurnedOnBoth Of(string name, RelativeDose dose, bool isOneDelivery)
    {
        ArgumentNullException.ThrowIfNull(dose);
        double chance = Math.Max(LeastError, Math.Log(dose.High / dose.Low) / (2 * NormalQuantile.TwoSided95));
        return new(name, Math.Log(dose.Value), Math.Sqrt(chance * chance + (isOneDelivery ? 0 : DeliveryVariance)));
    }
}
