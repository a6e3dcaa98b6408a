namespace CardScan.Calibration;

/// <summary>What chance decides for a whole card.</summary>
/// <param name="DoseFactor">Factor on all of its doses: the sheet, the day, the focus.</param>
/// <param name="DarknessScale">Factor on all measured darkness: the phone's tones.</param>
internal sealed record CardChance(double DoseFactor, double DarknessScale)
{
    /// <summary>Standard deviation of the darkness scale from photo to photo, once tones are corrected.</summary>
    private const double DarknessDeviation = 0.01;

    public static CardChance None { get; } = new(1, 1);

    /// <summary>Chances of one card; the dose's standard deviation is the material's.</summary>
    public static CardChance Draw(double doseDeviation, Chance chance) =>
        new(Math.Exp(doseDeviation * chance.Normal()), 1 + DarknessDeviation * chance.Normal());
}
