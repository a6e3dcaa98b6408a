using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What one photo tells of one card.</summary>
public sealed record CardView
{
    internal CardView(PhotoRecord record, ValueList<CellReading> cells, BackLitView? backLit, CardPicture? picture) =>
        (Record, Cells, BackLit, Picture) = (record, cells, backLit, picture);

    /// <summary>The photo.</summary>
    public PhotoRecord Record { get; }

    /// <summary>The rectified photo, where it was asked for.</summary>
    public CardPicture? Picture { get; init; }

    /// <summary>The card's cells; of a back-lit photo only where they are.</summary>
    internal ValueList<CellReading> Cells { get; }

    /// <summary>The sides of its cells; null for a front-lit photo.</summary>
    internal BackLitView? BackLit { get; }
}
