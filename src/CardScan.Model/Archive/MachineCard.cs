namespace CardScan.Model;

/// <summary>What a machine's history needs of a reading.</summary>
/// <param name="Need">The energy that the card needed; null where it does not tell.</param>
/// <param name="Manner">What else its cells were burned with: only cards of one manner are held against each other.</param>
/// <param name="Taken">When its last photo was taken, by the camera's own clock; null where no photo says.</param>
public sealed record ReadingNeed(EnergyNeed? Need, string Manner, DateTime? Taken)
{
    /// <summary>Way of counting; what was kept in an older one is counted anew.</summary>
    public const int Version = 1;
}

/// <summary>A card that was burned on a machine, by its newest current reading.</summary>
public sealed record MachineCard
{
    /// <summary>The machine's row in the archive: that of the name which it is kept under.</summary>
    public required long MachineId { get; init; }

    /// <summary>The machine as the card's plan has it, under the name that it is kept under.</summary>
    public required Machine Machine { get; init; }

    /// <summary>The card.</summary>
    public required long CardId { get; init; }

    /// <summary>The number in its markers.</summary>
    public required int Number { get; init; }

    /// <summary>Engrave or cut.</summary>
    public required Process Process { get; init; }

    /// <summary>Its material, with the delivery.</summary>
    public required Material Material { get; init; }

    /// <summary>The reading.</summary>
    public required long ReadingId { get; init; }

    /// <summary>When that was read, UTC.</summary>
    public required DateTimeOffset ReadUtc { get; init; }

    /// <summary>What the reading tells; null where that was not counted yet.</summary>
    public ReadingNeed? Told { get; init; }

    /// <summary>The reading's name in commands: <c>r12</c>.</summary>
    public string ReadingName => ReadingEntry.NameOf(ReadingId);
}

/// <summary>Something that was done to a machine, after which its cards are held against each other anew.</summary>
/// <param name="Id">Its id; never given twice.</param>
/// <param name="MachineId">The machine's row in the archive.</param>
/// <param name="On">When, by the clock of the workshop.</param>
/// <param name="What">What was done, in the maker's words.</param>
public sealed record MachineChange(long Id, long MachineId, DateTime On, string What)
{
    /// <summary>Its name in commands: <c>m3</c>.</summary>
    public string Name => NameOf(Id);

    /// <summary>The name of a change in commands.</summary>
    /// <param name="id">Its id.</param>
    public static string NameOf(long id) => $"m{id}";
}
