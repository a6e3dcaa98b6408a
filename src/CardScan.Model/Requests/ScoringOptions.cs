namespace CardScan.Model;

/// <summary>What a maker may ask of the scoring; the defaults are the definitions of docs/method/engrave-scoring.md.</summary>
public sealed record ScoringOptions
{
    /// <summary>The defaults.</summary>
    public static ScoringOptions Default { get; } = new();

    /// <summary>Share of the strongest mark of the card that makes a full mark, 0 to 1 exclusive.</summary>
    public double FullMarkShare { get; init; } = 0.95;

    /// <summary>Probability demanded that a recommended engraving is a full mark, 0 to 1 exclusive.</summary>
    public double FullMarkConfidence { get; init; } = 0.8;

    /// <summary>Widest halo that <c>darkest</c> accepts, mm.</summary>
    public double HaloLimitMm { get; init; } = 1.0;

    /// <summary>Probability demanded that a recommended cut is through on all sides, 0 to 1 exclusive.</summary>
    public double CutConfidence { get; init; } = 0.95;

    /// <summary>Tones for pictures; null asks for none.</summary>
    public ToneRequest? Tones { get; init; }

    /// <summary>Throws where an option is out of its range.</summary>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public void Check()
    {
        Share(FullMarkShare, nameof(FullMarkShare));
        Share(CutConfidence, nameof(CutConfidence));
        Share(FullMarkConfidence, nameof(FullMarkConfidence));
        Tones?.Check();
        if (!(HaloLimitMm >= 0)) throw new ArgumentOutOfRangeException(nameof(HaloLimitMm), HaloLimitMm, "A halo limit is 0 mm or more.");
    }

    private static void Share(double value, string name)
    {
        if (!(value > 0 && value < 1))
            throw new ArgumentOutOfRangeException(name, value, "A share or probability lies between 0 and 1, both excluded.");
    }
}
