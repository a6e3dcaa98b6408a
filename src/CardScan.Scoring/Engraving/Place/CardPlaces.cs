using CardScan.Model;

namespace CardScan.Scoring.Engraving;

/// <summary>Where the plan put the cells of the reading's own card, which need not follow the order of their settings.</summary>
internal sealed class CardPlaces
{
    private readonly Dictionary<(int Row, int Column), Cell> _cells = [];
    private readonly (double First, double Last) _x;
    private readonly (double First, double Last) _y;

    public CardPlaces(EngravedCard card)
    {
        ValueList<Cell> cells = card.Readings[0].Plan.Cells;
        foreach (Cell cell in cells) _cells.TryAdd((cell.Row, cell.Column), cell);
        (_x, _y) = ((cells.Min(cell => cell.XMm), cells.Max(cell => cell.XMm)), (cells.Min(cell => cell.YMm), cells.Max(cell => cell.YMm)));
    }

    /// <summary>1 in a corner, 0 along the two sides away from it.</summary>
    public double PartAt(BurnedCell cell, bool isRight, bool isBottom)
    {
        Cell own = _cells[(cell.Address.Row, cell.Address.Column)];
        return Along(own.XMm, _x, isRight) * Along(own.YMm, _y, isBottom);
    }

    private static double Along(double at, (double First, double Last) range, bool isLast) =>
        range.Last <= range.First ? 1 : (isLast ? at - range.First : range.Last - at) / (range.Last - range.First);
}
