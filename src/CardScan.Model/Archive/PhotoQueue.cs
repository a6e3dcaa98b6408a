namespace CardScan.Model;

/// <summary>Photos that any computer of a workshop is to read.</summary>
public sealed record PhotosToRead
{
    /// <summary>The photos' files, one or more.</summary>
    public required ValueList<string> Paths { get; init; }

    /// <summary>How they are to be read, in words of whoever reads them.</summary>
    public required ReadOnlyMemory<byte> Request { get; init; }

    /// <summary>True where all of them are of one card: nobody has to look which.</summary>
    public bool IsOfOneCard { get; init; }

    /// <summary>Who puts them in, for people.</summary>
    public required string PutBy { get; init; }
}

/// <summary>How far the reading of photos that one command put in has come.</summary>
/// <param name="Id">Its id.</param>
public sealed record QueueJob(long Id)
{
    /// <summary>Its name: <c>q3</c>.</summary>
    public string Name => NameOf(Id);

    /// <summary>Who put it in.</summary>
    public required string PutBy { get; init; }

    /// <summary>When, UTC.</summary>
    public required DateTimeOffset Put { get; init; }

    /// <summary>When nothing was left to do, UTC; null where something is.</summary>
    public DateTimeOffset? Done { get; init; }

    /// <summary>Its photos.</summary>
    public required int Photos { get; init; }

    /// <summary>Photos that were looked at: the cards that they show are known, or why none is.</summary>
    public required int Looked { get; init; }

    /// <summary>Cards found so far.</summary>
    public required int Cards { get; init; }

    /// <summary>Cards that were read, or could not be.</summary>
    public required int CardsDone { get; init; }

    /// <summary>The photos, and cards, that could not be read.</summary>
    public required ValueList<QueueRefusal> Refusals { get; init; }

    /// <summary>The readings that were kept, the oldest first.</summary>
    public required ValueList<string> Readings { get; init; }

    /// <summary>Who works on it now.</summary>
    public required ValueList<string> Workers { get; init; }

    /// <summary>The name of the job with an id.</summary>
    public static string NameOf(long id) => FormattableString.Invariant($"q{id}");
}

/// <summary>Photos that were not read.</summary>
/// <param name="Photos">Their names.</param>
/// <param name="Code">The reason's code.</param>
/// <param name="Message">Why, and what to do.</param>
public sealed record QueueRefusal(string Photos, string Code, string Message);

/// <summary>The right to do a task until its lease ends: it is lost where that is not renewed.</summary>
/// <param name="TaskId">The task.</param>
/// <param name="Lease">What only its holder knows.</param>
public sealed record WorkClaim(long TaskId, string Lease)
{
    /// <summary>The photos that a reading had to do without.</summary>
    public ValueList<QueueRefusal> Refusals { get; init; } = [];
}

/// <summary>A task that a worker has taken.</summary>
/// <param name="Claim">The right to it.</param>
/// <param name="Job">Name of its job.</param>
public sealed record QueuedWork(WorkClaim Claim, string Job)
{
    /// <summary>True where it is to be told which cards a photo shows; false where a card is to be read.</summary>
    public required bool IsLook { get; init; }

    /// <summary>The card to be read; null where all photos are of one, and where a photo is only looked at.</summary>
    public int? Card { get; init; }

    /// <summary>How the photos are to be read.</summary>
    public required ReadOnlyMemory<byte> Request { get; init; }

    /// <summary>Its photos, one or more, in the order in which they were put in.</summary>
    public required ValueList<QueuedPhoto> Photos { get; init; }
}

/// <summary>A photo in the queue.</summary>
/// <param name="Path">Where its bytes are.</param>
/// <param name="Name">The name that it came with.</param>
/// <param name="Sha256">Fingerprint of its bytes.</param>
public sealed record QueuedPhoto(string Path, string Name, string Sha256);
