namespace CardScan.Robustness;

/// <summary>What became of a photo.</summary>
internal enum Outcome
{
    /// <summary>Read, and most of the card can be used.</summary>
    Useful,

    /// <summary>Read and nothing in it is wrong, but much of the card is flagged or unseen; the warnings say so.</summary>
    Little,

    /// <summary>Refused with a reason.</summary>
    Refused,

    /// <summary>Something is wrong and nothing says so.</summary>
    SilentlyWrong,
}

/// <summary>A photo, and what became of it.</summary>
internal sealed record Verdict
{
    public required Recipe Recipe { get; init; }

    public required Outcome Outcome { get; init; }

    /// <summary>Code of the refusal; the kind of what is wrong; else empty.</summary>
    public string Code { get; init; } = "";

    /// <summary>What is wrong, in words; the refusal; the warnings.</summary>
    public string Message { get; init; } = "";

    /// <summary>Share of the cells, or of the sides, that can be used, 0 to 1.</summary>
    public double UsableShare { get; init; }

    /// <summary>The fastest full mark that was recommended with at least 80 %; null where none was.</summary>
    public Promise? FullMark { get; init; }

    /// <summary>RMS distance of the cells' centres from their true places, mm.</summary>
    public double? PlaceRmsMm { get; init; }

    /// <summary>The same photo with what is wrong in it; itself where nothing is.</summary>
    public Verdict With(Wrong? wrong) =>
        wrong is null ? this : this with { Outcome = Outcome.SilentlyWrong, Code = wrong.Code, Message = wrong.Message };
}

/// <summary>Something wrong that nothing tells of.</summary>
/// <param name="Code">Its kind.</param>
/// <param name="Message">What it is, with figures.</param>
internal sealed record Wrong(string Code, string Message);

/// <summary>A recommended full mark held against the truth.</summary>
/// <param name="Confidence">Stated probability.</param>
/// <param name="TrueShare">
/// What its setting gives without chance, against the strongest setting whose cell is not flagged: what is promised.
/// </param>
/// <param name="BurnedShare">
/// The same of the marks as burned: the chance of its cell, and the luckiest of several strong ones as the measure.
/// </param>
internal sealed record Promise(double Confidence, double TrueShare, double BurnedShare);
