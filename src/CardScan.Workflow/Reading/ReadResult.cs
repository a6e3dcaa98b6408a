using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A photo that was not measured.</summary>
/// <param name="Name">Its file's name.</param>
/// <param name="Refusal">Why, and what to do.</param>
public sealed record RefusedPhoto(string Name, Refusal Refusal);

/// <summary>What came of one card.</summary>
/// <param name="Reading">Measured and scored.</param>
/// <param name="Files">Paths of the files written, the page first.</param>
public sealed record ReadResult(Reading Reading, ValueList<string> Files)
{
    /// <summary>What is doubtful about which plan was used, which other cards, and whether the machine is what it was.</summary>
    public ValueList<Warning> Doubts { get; init; } = [];

    /// <summary>The photos that the reading had to do without; a person must be told.</summary>
    public ValueList<RefusedPhoto> Refused { get; init; } = [];

    /// <summary>What the archive made of it; null where none is used.</summary>
    public Outcome<KeptReading>? Kept { get; init; }
}

/// <summary>What came of the photos.</summary>
/// <param name="Cards">A result for each card that could be read, in the order of the cards' first photos.</param>
/// <param name="Refused">The photos of no card, then those of each card that could not be read, in the order given.</param>
public sealed record ReadCardsResult(ValueList<ReadResult> Cards, ValueList<RefusedPhoto> Refused);

/// <summary>What is being done.</summary>
public enum ReadStep
{
    /// <summary>A photo is copied into the queue.</summary>
    Copying,

    /// <summary>Workers of the queue do it; the name says how far they are.</summary>
    Waiting,

    /// <summary>A photo is opened and measured.</summary>
    Measuring,

    /// <summary>A card is scored.</summary>
    Scoring,

    /// <summary>A card's report is rendered.</summary>
    Reporting,
}

/// <summary>How far the reading of photos has come.</summary>
/// <param name="Step">What is begun.</param>
/// <param name="Done">Photos that were begun.</param>
/// <param name="Total">Photos in all.</param>
/// <param name="Name">The photo's file; null where it is no photo that is begun.</param>
public sealed record ReadProgress(ReadStep Step, int Done, int Total, string? Name = null);
