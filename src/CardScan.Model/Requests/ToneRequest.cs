namespace CardScan.Model;

/// <summary>Tones for pictures: how many, and along which line of the card.</summary>
/// <param name="Steps">Lightness steps, 2 to 64.</param>
/// <param name="AtSpeedMmPerMin">A burned speed at which power changes; null leaves the choice.</param>
/// <param name="AtPowerPercent">A burned power at which speed changes; null lets power change.</param>
public sealed record ToneRequest(int Steps, double? AtSpeedMmPerMin = null, double? AtPowerPercent = null)
{
    /// <summary>Fewest tones.</summary>
    public const int FewestSteps = 2;

    /// <summary>Most tones.</summary>
    public const int MostSteps = 64;

    /// <summary>Throws where the request is out of its range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Too few or too many steps, or both a speed and a power held.</exception>
    public void Check()
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(Steps, FewestSteps);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(Steps, MostSteps);
        if (AtSpeedMmPerMin is not null && AtPowerPercent is not null)
            throw new ArgumentOutOfRangeException(nameof(AtPowerPercent), AtPowerPercent, "Tones hold a speed or a power, not both.");
    }
}
