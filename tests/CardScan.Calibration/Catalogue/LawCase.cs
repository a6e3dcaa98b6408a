using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>A law, and what else is drawn with it, in words and as a draw of cards.</summary>
/// <param name="Process">Engrave or cut.</param>
/// <param name="Name">Short name, as in tables and on the command line.</param>
/// <param name="About">What it stands for and what is drawn, for the page.</param>
internal abstract record LawCase(Process Process, string Name, string About)
{
    /// <summary>Range of the chance of a cell, as a share of its mark or of its dose: from even board to coarse wood.</summary>
    protected static readonly (double From, double To) CellChances = (0.008, 0.04);

    /// <summary>A card of this law.</summary>
    /// <param name="size">Rows and columns.</param>
    /// <param name="chance">Decides the ranges of the grid, the law's parameters and where it lies on the grid.</param>
    public abstract TrueCard Draw(GridSize size, Chance chance);

    /// <summary>What the machine makes of a power.</summary>
    public Func<Chance, Driver> Driver { get; init; } = _ => Calibration.Driver.Linear;

    /// <summary>What the card's places change; null: nothing.</summary>
    public Func<Chance, PlaceField>? Field { get; init; }

    /// <summary>True where rows and columns are not seen: they are others on every card, so such cards make no chain.</summary>
    public bool HasGaps { get; init; }

    protected PlaceField FieldOf(Chance chance) => Field?.Invoke(chance) ?? PlaceField.None;

    protected Gaps GapsOf(Grid grid, Chance chance) => HasGaps ? Fields.Missing(grid, chance) : Gaps.None;

    public string NameAt(GridSize size) => $"{Process.ToString().ToLowerInvariant()}, {Name}, {size}";
}

/// <summary>Cells along the two axes of a grid; which of them has the powers is drawn where they differ.</summary>
internal sealed record GridSize(int Few, int Many)
{
    public static readonly GridSize[] All =
        [new(3, 3), new(4, 4), new(5, 5), new(6, 6), new(8, 8), new(10, 10), new(12, 12), new(3, 8), new(5, 10), new(4, 12)];

    public override string ToString() => $"{Few}x{Many}";
}
