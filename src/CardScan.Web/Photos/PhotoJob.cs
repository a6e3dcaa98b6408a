using CardScan.Model;

namespace CardScan.Web;

/// <summary>How far a photo has come.</summary>
internal enum PhotoState
{
    /// <summary>Whole on this computer's disk; others are before it.</summary>
    Waiting,

    /// <summary>It is looked at: markers, sharpness, light, angle, size, then every cell.</summary>
    Checking,

    /// <summary>It is good; its card is being scored.</summary>
    Reading,

    /// <summary>Its reading is in the archive.</summary>
    Kept,

    /// <summary>It cannot be used.</summary>
    Refused,
}

/// <summary>
/// A photo that somebody sent, as it stands now; once it was looked at, one for each card that it shows.
/// </summary>
/// <param name="Id">Tells the photo from others; made here.</param>
/// <param name="Name">The name that it came with: text to show and nothing else.</param>
/// <param name="State">How far it has come.</param>
internal sealed record PhotoJob(string Id, string Name, PhotoState State)
{
    /// <summary>Who sent it, on the page of a workshop; null on that of one person.</summary>
    public Actor? By { get; init; }

    /// <summary>Fingerprint of its bytes.</summary>
    public required string Sha256 { get; init; }

    /// <summary>Number of the card; null where it is not known (yet).</summary>
    public int? CardNumber { get; init; }

    /// <summary>Fingerprint of its card's plan.</summary>
    public string? PlanSha256 { get; init; }

    /// <summary>The one thing to change; null where it is good, or not looked at yet.</summary>
    public Warning? Change { get; init; }

    /// <summary>The photo made small; null where it is not looked at yet, or shows nothing.</summary>
    public SmallPicture? Picture { get; init; }

    /// <summary>The corners of its card in it.</summary>
    public ValueList<CardCorner> Corners { get; init; } = [];

    /// <summary>Why it cannot be used.</summary>
    public Refusal? Refusal { get; init; }

    /// <summary>Name of the reading that it went into.</summary>
    public string? ReadingName { get; init; }

    /// <summary>True where nothing more will happen to it.</summary>
    public bool IsDone => State is PhotoState.Kept or PhotoState.Refused;
}
