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

    /// <summary>The same for settings: words may name the thickness (3 mm), and find every spelling of a name.</summary>
    public ArchiveQuery ForSettings() => Text is not { } text ? this : this with
    {
        Text = NameKey.Searched(ThicknessMm is null ? NameKey.WithoutThickness(text) : text),
        ThicknessMm = ThicknessMm ?? NameKey.ThicknessMm(text),
    };
}

/// <summary>Something of the archive that a person named: one of the three ids is given.</summary>
/// <param name="Name">Its name, as notes and messages have it.</param>
/// <param name="CardId">A card.</param>
/// <param name="ReadingId">A reading.</param>
/// <param name="BatchId">A batch.</param>
public sealed record ArchiveSubject(string Name, long? CardId = null, long? ReadingId = null, long? BatchId = null);
