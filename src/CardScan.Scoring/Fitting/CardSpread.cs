namespace CardScan.Scoring.Fitting;

/// <summary>What differs from engraved card to card of one material on one machine: the day, the sheet, the focus, the photo.</summary>
internal static class CardSpread
{
    /// <summary>Standard deviations of ln dose and of ln mark (common practice, no source).</summary>
    public const double OfDose = 0.025, OfMark = 0.01;
}
