using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What one photo tells of one card.</summary>
public sealed record CardView
{
    internal CardView(PhotoRecord record, ValueList<CellReading> cells, BackLitView? backLit) =>
        (Record, Cells, BackLit) = (record, cells, backLit);

    /// <summary>The photo.</summary>
    public PhotoRecord Record { get; }

    /// <summary>The rectified photo, where it was asked for.</summary>
    public CardPicture? Picture { get; init; }

    /// <summary>What it tells of the phone's tone curve.</summary>
    internal ToneEvidence? Tones { get; init; }

    /// <summary>The card's cells; of a back-lit photo only where they are.</summary>
    internal ValueList<CellReading> Cells { get; }

    /// <summary>The sides of its cells; null for a front-lit photo.</summary>
    internal BackLitView? BackLit { get; }
}
