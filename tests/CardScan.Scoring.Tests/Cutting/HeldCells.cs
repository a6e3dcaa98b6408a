using CardScan.Model;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>Cells that did not come free, whatever they were burned with.</summary>
internal static class HeldCells
{
    /// <summary>A side that is seen along all of its length and through nowhere.</summary>
    public static SideReading Side { get; } = new() { State = SideState.Closed, OpenFraction = 0, SeenFraction = 1 };

    /// <summary>The same reading with some of its cells held on all four sides.</summary>
    public static Reading WithHeld(this Reading reading, Func<CellReading, bool> isHeld) => reading with
    {
        Cells = reading.Cells.Select(cell => isHeld(cell) ? cell with { Sides = new(Side, Side, Side, Side) } : cell).ToValueList(),
    };
}
