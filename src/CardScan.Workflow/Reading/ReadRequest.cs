using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>What is to be read and how.</summary>
public sealed record ReadRequest
{
    /// <summary>Stands for a folder named after the card's number.</summary>
    public const string FolderOfCard = Workflow.OutputFolder.OfAnyCard;

    /// <summary>Paths of photos, one or more, of one card or of many in any order.</summary>
    public required ValueList<string> Photos { get; init; }

    /// <summary>
    /// Paths of the plans that the cards were burned from, or the cards' names in the archive. A single one is taken for all
    /// photos. What they have not, the archive's newest open card with the number in the photo has.
    /// </summary>
    public ValueList<string> Plans { get; init; } = [];

    /// <summary>Number of the only card that is wanted of those that the photos show; null for all of them.</summary>
    public int? Card { get; init; }

    /// <summary>
    /// Folder for the results; <see cref="FolderOfCard"/> at its end stands for a name after the card, null writes none. Where
    /// there are several cards, each gets a folder of its own inside any other one.
    /// </summary>
    public string? OutputFolder { get; init; }

    /// <summary>The archive that finds plans and keeps the readings; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>True to score each card alone, whatever cards of its material the archive has.</summary>
    public bool IsAlone { get; init; }

    /// <summary>True to take tones as the files give them, whatever the archive knows of phones and of cards in the photos.</summary>
    public bool HasPlainTones { get; init; }

    /// <summary>Where the light came from; null lets each photo tell.</summary>
    public Light? Light { get; init; }

    /// <summary>Goals, limits and probabilities.</summary>
    public ScoringOptions Scoring { get; init; } = new();

    /// <summary>The task of the queue that the reading does; null where it is of none.</summary>
    internal WorkClaim? Claim { get; init; }

    /// <summary>True where all photos can only be of one card.</summary>
    internal bool IsOfOneCard => Plans.Count == 1 || Card is not null;

    /// <summary>True where a report is to be rendered, with pictures.</summary>
    internal bool HasReport => OutputFolder is not null || Archive is not null;

    /// <summary>How the photos are to be measured.</summary>
    internal VisionOptions Vision => new() { WithPictures = HasReport, Light = Light };

    /// <summary>Folder of a card's results; null where none is written.</summary>
    internal string? FolderOf(Plan plan) => OutputFolder is null ? null : Workflow.OutputFolder.OfCard(OutputFolder, plan.Number);

    /// <summary>The same for one of several cards: in a folder of its own.</summary>
    internal ReadRequest AsOneOfSeveral() => OutputFolder is null || Path.GetFileName(OutputFolder) == FolderOfCard
        ? this
        : this with { OutputFolder = Path.Combine(OutputFolder, FolderOfCard) };
}
