namespace CardScan.Model;

/// <summary>What a maker may ask of the next card.</summary>
public sealed record NextCardOptions
{
    /// <summary>Fewest and most values along each axis.</summary>
    public const int FewestValues = 2, MostValues = 20;

    /// <summary>The goal whose setting the card is planned about; null takes <c>sure-cut</c> or <c>fastest-full-mark</c>.</summary>
    public string? Goal { get; init; }

    /// <summary>Limits and probabilities of the scoring.</summary>
    public ScoringOptions Scoring { get; init; } = ScoringOptions.Default;

    /// <summary>Speeds of the card, 2 to 20.</summary>
    public int Rows { get; init; } = 6;

    /// <summary>Powers of the card, 2 to 20.</summary>
    public int Columns { get; init; } = 6;

    /// <summary>Powers are multiples of this, percent, 1 to 10.</summary>
    public double PowerStepPercent { get; init; } = 1;

    /// <summary>Slowest speed that the machine is to run, mm/min; at least 10.</summary>
    public double SlowestMmPerMin { get; init; } = 10;

    /// <summary>Fastest speed that the machine runs, mm/min.</summary>
    public double FastestMmPerMin { get; init; } = 60_000;

    /// <summary>Throws where an option is out of its range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public void Check()
    {
        Scoring.Check();
        Count(Rows, nameof(Rows));
        Count(Columns, nameof(Columns));
        if (!(PowerStepPercent is >= 1 and <= 10))
            throw new ArgumentOutOfRangeException(nameof(PowerStepPercent), PowerStepPercent, "A power step is 1 to 10 %.");
        if (!(SlowestMmPerMin >= 10 && FastestMmPerMin >= 2 * SlowestMmPerMin && FastestMmPerMin <= 1e6))
            throw new ArgumentOutOfRangeException(
                nameof(FastestMmPerMin), FastestMmPerMin, "Speeds run from 10 mm/min or more to at least twice the slowest.");
    }

    private static void Count(int value, string name)
    {
        if (value is < FewestValues or > MostValues) throw new ArgumentOutOfRangeException(name, value, "An axis has 2 to 20 values.");
    }
}
