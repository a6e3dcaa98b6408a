namespace CardScan.Model;

/// <summary>What a maker asks of a card.</summary>
public sealed record PlanRequest
{
    /// <summary>Width of a focus ladder's cell where none is asked for, mm.</summary>
    public const double UsualLadderCellMm = 12;

    /// <summary>Smallest side of a cell, mm; docs/method/small-cards.md says why, for this and the next two.</summary>
    public const double LeastCellMm = 3;

    /// <summary>Narrowest bare strip between filled cells, mm; the sides of a cut cell and a ladder's lines need the usual one.</summary>
    public const double LeastGapMm = 3;

    /// <summary>Smallest side of a burned marker, mm; a printed one keeps the usual size.</summary>
    public const double LeastMarkerMm = 6;

    /// <summary>Engrave or cut.</summary>
    public Process Process { get; init; } = Process.Engrave;

    /// <summary>What stands in the cells; a focus ladder is engraved and has the focus offset as an axis.</summary>
    public CardKind Kind { get; init; } = CardKind.Grid;

    /// <summary>The card's number, 0 to 249; give every card that is kept a number of its own.</summary>
    public int Number { get; init; }

    /// <summary>The maker's words for the card.</summary>
    public string Title { get; init; } = "";

    /// <summary>What it is burned into.</summary>
    public required Material Material { get; init; }

    /// <summary>What burns it.</summary>
    public required Machine Machine { get; init; }

    /// <summary>
    /// The settings, each once. One or two of them have several values and become the axes, in the order of
    /// <see cref="Setting"/>: the first from column to column, the second from row to row. Power and speed are needed.
    /// A line interval that is not given is 0.1 mm for fills.
    /// </summary>
    public required ValueList<SettingRange> Settings { get; init; }

    /// <summary>The energy that <see cref="Settings"/> were chosen around; null where they were asked for.</summary>
    public StartingEnergy? Start { get; init; }

    /// <summary>What markers and labels are burned with; null takes the material's own, or a middle or usual setting.</summary>
    public MarkSetting? Mark { get; init; }

    /// <summary>Seed of the order of burning; null takes the card's number.</summary>
    public int? Seed { get; init; }

    /// <summary>The danger of the material in the words of the refusal that named it; null where nothing is accepted.</summary>
    public string? AcceptedRisk { get; init; }

    /// <summary>Air assist; null where the maker does not say.</summary>
    public AirAssist? AirAssist { get; init; }

    /// <summary>How much lower the focus goes with each further pass, mm, 0 to 20; null leaves it where it is.</summary>
    public double? FocusStepMm { get; init; }

    /// <summary>Rest between two passes over a cell, s, 0 to 600; null for none.</summary>
    public double? PassPauseS { get; init; }

    /// <summary>Rest before each cell but the first, s, 0 to 600; null for none.</summary>
    public double? CellPauseS { get; init; }

    /// <summary>Tabs on each side of a cut cell, 0 to 3, that keep the piece inside from dropping and shifting.</summary>
    public int TabsPerSide { get; init; }

    /// <summary>Length of a tab, 0.2 to 2 mm; what holds is shorter by the kerf.</summary>
    public double TabMm { get; init; } = 0.5;

    /// <summary>
    /// Side of a cell, 3 to 50 mm (a cut one 4 mm or more); a focus ladder's are at least 10 mm wide and half as high. A
    /// filled cell is as high as whole lines make it.
    /// </summary>
    public double CellSideMm { get; init; } = 8;

    /// <summary>
    /// Least width of the bare strips between cells, 3 to 50 mm (6 mm or more beside cuts and lines): the light is judged
    /// there.
    /// </summary>
    public double GapMm { get; init; } = 6;

    /// <summary>Side of a marker, 6 to 15 mm (a printed one 10 mm or more).</summary>
    public double MarkerSideMm { get; init; } = 10;

    /// <summary>Paper of a printed mask that carries the markers, for material that takes none; null burns them.</summary>
    public Paper? Frame { get; init; }

    /// <summary>Size of the card; null takes the smallest that holds the grid.</summary>
    public CardSize? Card { get; init; }
}
