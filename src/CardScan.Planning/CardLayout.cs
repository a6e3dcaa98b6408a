using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Where everything lies on a card: markers in the corners, a strip for labels inside them, the grid in the middle.</summary>
internal sealed record CardLayout(CardSize Card, Fiducials Fiducials, ValueList<Cell> Cells)
{
    /// <summary>From the card's edge to a marker: a marker needs bare material all around to be found, mm.</summary>
    internal const double EdgeMm = 4;

    /// <summary>From the markers' inner edges to the grid, mm; labels stand there.</summary>
    internal const double ClearMm = 6;

    /// <summary>Positions are whole micrometres: finer than any machine, short in the files.</summary>
    private const int Decimals = 3;

    /// <summary>Lays out a grid; the card is the smallest that holds it, or the one asked for with the grid spread over it.</summary>
    internal static Outcome<CardLayout> Fit(PlanRequest request, int columns, int rows)
    {
        double rim = EdgeMm + request.MarkerSideMm + ClearMm;
        CardSize least = new()
        {
            WidthMm = 2 * rim + Extent(columns, request.CellSideMm, request.GapMm),
            HeightMm = 2 * rim + Extent(rows, request.CellSideMm, request.GapMm),
        };
        CardSize card = request.Card ?? least;
        if (card.WidthMm < least.WidthMm - 1e-9 || card.HeightMm < least.HeightMm - 1e-9)
        {
            return Refusal.OfInput("plan-size",
                $"--card is {card.WidthMm} × {card.HeightMm} mm, and {columns} × {rows} cells need at least {least.WidthMm} × {least.HeightMm} mm",
                "give a larger --card, fewer values or a smaller --cell");
        }

        double[] lefts = Starts(columns, request.CellSideMm, rim, card.WidthMm);
        double[] tops = Starts(rows, request.CellSideMm, rim, card.HeightMm);
        IEnumerable<Cell> cells =
            from row in Enumerable.Range(0, rows)
            from column in Enumerable.Range(0, columns)
            select new Cell
            {
                Row = row,
                Column = column,
                XMm = lefts[column],
                YMm = tops[row],
                WidthMm = request.CellSideMm,
                HeightMm = request.CellSideMm,
            };
        return new CardLayout(card, Corners(request, card), cells.ToValueList());
    }

    private static double Extent(int count, double cell, double gap) => count * cell + (count - 1) * gap;

    /// <summary>Where cells begin along one direction: evenly spread, a single one in the middle.</summary>
    private static double[] Starts(int count, double cell, double rim, double length)
    {
        double free = length - 2 * rim - cell;
        return count == 1
            ? [Math.Round(rim + free / 2, Decimals)]
            : [.. Enumerable.Range(0, count).Select(i => Math.Round(rim + free * i / (count - 1), Decimals))];
    }

    private static Fiducials Corners(PlanRequest request, CardSize card)
    {
        double right = Math.Round(card.WidthMm - EdgeMm - request.MarkerSideMm, Decimals);
        double bottom = Math.Round(card.HeightMm - EdgeMm - request.MarkerSideMm, Decimals);
        int first = 4 * request.Number;
        return new()
        {
            Dictionary = Fiducials.OnlyDictionary,
            SideMm = request.MarkerSideMm,
            Markers =
            [
                new() { Id = first, XMm = EdgeMm, YMm = EdgeMm },
                new() { Id = first + 1, XMm = right, YMm = EdgeMm },
                new() { Id = first + 2, XMm = right, YMm = bottom },
                new() { Id = first + 3, XMm = EdgeMm, YMm = bottom },
            ],
        };
    }
}
