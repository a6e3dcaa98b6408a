namespace CardScan.Model;

/// <summary>How a card is burned besides its cells' settings.</summary>
public sealed record Burning : Extensible
{
    /// <summary>Seed of the shuffle that gave the order.</summary>
    public required int Seed { get; init; }

    /// <summary>Places in the list of cells, in the order of burning; each once.</summary>
    public required ValueList<int> Order { get; init; }

    /// <summary>
    /// What markers and labels are burned with, in one pass; the focus is the fixed one, or on the surface where it is an
    /// axis.
    /// </summary>
    public required MarkSetting Marks { get; init; }

    /// <summary>Rest before each cell but the first, so that the material cools, s, 0 to 600; none where absent.</summary>
    public double? CellPauseS { get; init; }
}

/// <summary>A single line of a focus ladder, along x or along y.</summary>
public sealed record BurnedLine : Extensible
{
    /// <summary>Where it begins, mm.</summary>
    public required double FromXMm { get; init; }

    /// <summary>Where it begins, mm.</summary>
    public required double FromYMm { get; init; }

    /// <summary>Where it ends, mm.</summary>
    public required double ToXMm { get; init; }

    /// <summary>Where it ends, mm.</summary>
    public required double ToYMm { get; init; }
}

/// <summary>An edge of a cut cell.</summary>
public enum CellSide
{
    /// <summary>Left.</summary>
    Left,

    /// <summary>Right.</summary>
    Right,

    /// <summary>Top.</summary>
    Top,

    /// <summary>Bottom.</summary>
    Bottom,
}

/// <summary>A stretch of a cut cell's outline that is not cut.</summary>
public sealed record Tab : Extensible
{
    /// <summary>The side it is on.</summary>
    public required CellSide Side { get; init; }

    /// <summary>Its middle, mm from the left end (top, bottom) or the upper end (left, right).</summary>
    public required double AtMm { get; init; }

    /// <summary>Length for which the beam is off, mm; what holds is shorter by the kerf.</summary>
    public required double LengthMm { get; init; }
}
