using CardScan.Model;

namespace CardScan.Scoring.Comparing;

/// <summary>What a maker may ask of a comparison.</summary>
public sealed record ComparisonOptions
{
    /// <summary>Difference of dose that counts as none, as a share: 0.05 is from 1/1.05 to 1.05 times; above 0, at most 1.</summary>
    public double Margin { get; init; } = 0.05;

    /// <summary>Readings of one and the same engraved card from different photos, two or more; none where there are no repeats.</summary>
    /// <remarks>
    /// They are named, never guessed: two cards burned from one plan are told from two photos of one card by nobody but the maker.
    /// </remarks>
    public ValueList<LabelledReading> Repeats { get; init; } = [];

    /// <summary>How a reading without recommendations is scored before it is compared.</summary>
    public ScoringOptions Scoring { get; init; } = ScoringOptions.Default;

    /// <summary>Throws where an option is out of its range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    internal void Check()
    {
        if (!(Margin > 0 && Margin <= 1))
            throw new ArgumentOutOfRangeException(nameof(Margin), Margin, "A margin lies above 0 and is at most 1.");
        Scoring.Check();
    }
}
