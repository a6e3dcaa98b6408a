namespace CardScan.Scoring.Next.Knowledge;

/// <summary>What differs from card to card of one material on one machine: the day, the sheet, the focus, the photo. As the scoring of several cards has it.</summary>
internal static class CardSpread
{
    /// <summary>Standard deviations of ln dose and of ln mark (common practice, no source).</summary>
    public const double OfDose = 0.03, OfMark = 0.02;
}
