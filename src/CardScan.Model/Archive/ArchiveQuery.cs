using CardScan.Language;

namespace CardScan.Model;

/// <summary>Which cards are looked for; what is null is not asked for. All that is asked for must hold.</summary>
public sealed record ArchiveQuery
{
    /// <summary>
    /// Words, each the beginning of one in the card's title, number, material, batch, machine, photos' names, notes or tags.
    /// </summary>
    public string? Text { get; init; }

    /// <summary>The number in the card's markers.</summary>
    public int? Number { get; init; }

    /// <summary>Part of the material's name, upper and lower case alike.</summary>
    public string? Material { get; init; }

    /// <summary>Part of the machine's name, upper and lower case alike.</summary>
    public string? Machine { get; init; }

    /// <summary>Part of the batch's name, upper and lower case alike.</summary>
    public string? Batch { get; init; }

    /// <summary>Thickness of the material, mm, to 0.005 mm.</summary>
    public double? ThicknessMm { get; init; }

    /// <summary>Engrave or cut.</summary>
    public Process? Process { get; init; }

    /// <summary>A tag of the card, of one of its readings or of its batch.</summary>
    public string? Tag { get; init; }

    /// <summary>Planned or read at this time or later.</summary>
    public DateTimeOffset? From { get; init; }

    /// <summary>Planned or read before this time.</summary>
    public DateTimeOffset? Before { get; init; }

    /// <summary>Only this card, reading's card or batch, as the archive resolved its name.</summary>
    public ArchiveSubject? Subject { get; init; }

    /// <summary>How many cards are given at most.</summary>
    public int Most { get; init; } = int.MaxValue;
}

/// <summary>Something of the archive that a person named: one of the three ids is given.</summary>
/// <param name="Name">Its name, as notes and messages have it.</param>
/// <param name="CardId">A card.</param>
/// <param name="ReadingId">A reading.</param>
/// <param name="BatchId">A batch.</param>
public sealed record ArchiveSubject(string Name, long? CardId = null, long? ReadingId = null, long? BatchId = null);

/// <summary>The newest setting for a goal on one machine, material and thickness.</summary>
public sealed record BestSetting
{
    /// <summary>The card that it comes from, with machine, material, thickness, process and batch.</summary>
    public required CardEntry Card { get; init; }

    /// <summary>The reading that it comes from: the newest current one that recommends a setting for the goal.</summary>
    public required long ReadingId { get; init; }

    /// <summary>When that was read, UTC.</summary>
    public required DateTimeOffset ReadUtc { get; init; }

    /// <summary>The setting with its reason, probability and interval.</summary>
    public required RecommendationEntry Recommendation { get; init; }

    /// <summary>
    /// How many current readings recommend a setting for this goal there with the same passes and line interval, this one
    /// included.
    /// </summary>
    public required int Readings { get; init; }

    /// <summary>Lowest and highest speed that they recommend, mm/min.</summary>
    public required (double Low, double High) SpeedMmPerMin { get; init; }

    /// <summary>Lowest and highest power that they recommend, percent.</summary>
    public required (double Low, double High) PowerPercent { get; init; }

    /// <summary>The speeds that they recommend, for a message: one, or from the lowest to the highest.</summary>
    public Figure Speeds() => Range(SpeedMmPerMin, Figures.Speed);

    /// <summary>The powers, likewise.</summary>
    public Figure Powers() => Range(PowerPercent, Figures.Power);

    private static Figure Range((double Low, double High) range, Func<double, Number> figure) => range.Low == range.High
        ? figure(range.Low)
        : new Phrase("terminal.range", ("low", figure(range.Low)), ("high", figure(range.High)));

    /// <summary>Name of the reading in commands.</summary>
    public string ReadingName => ReadingEntry.NameOf(ReadingId);
}
