using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Where everything lies on a card: markers in the corners, a strip for labels inside them, the grid in the middle.</summary>
internal sealed record CardLayout(CardSize Card, Fiducials Fiducials, FrameSheet? Frame, ValueList<Cell> Cells)
{
    /// <summary>From the edge of a paper mask, and of most cards, to a marker, mm.</summary>
    internal const double EdgeMm = 4;

    /// <summary>A marker needs bare material all around to be found: so much of its side, but no less than the next, mm.</summary>
    private const double EdgeShare = 0.4, LeastEdgeMm = 2.5;

    /// <summary>From the markers' inner edges to the grid, mm; labels stand there.</summary>
    internal const double ClearMm = 6;

    /// <summary>Lays out a grid; the card is the smallest that holds it, or the one asked for with the grid spread over it.</summary>
    internal static Outcome<CardLayout> Fit(PlanRequest request, GridSettings grid)
    {
        int columns = grid.Columns.Values.Count, rows = grid.Rows.Values.Count;
        double rim = request.Frame is null ? EdgeOf(request) + request.MarkerSideMm + ClearMm : FrameLayout.CellRimMm(request.MarkerSideMm);
        double width = request.CellSideMm, height = HeightOf(request);
        CardSize least = new()
        {
            WidthMm = 2 * rim + Extent(columns, width, request.GapMm),
            HeightMm = 2 * rim + Extent(rows, height, request.GapMm),
        };
        CardSize card = request.Card ?? least;
        if (card.WidthMm < least.WidthMm - 1e-9 || card.HeightMm < least.HeightMm - 1e-9)
        {
            return Refusal.OfInput(Codes.PlanSize, ("width", Mm(card.WidthMm)), ("height", Mm(card.HeightMm)),
                ("columns", columns), ("rows", rows), ("least-width", Mm(least.WidthMm)), ("least-height", Mm(least.HeightMm)));
        }

        if (SmallestSizes.FaultOn(card, request) is { } coarse) return coarse;
        Outcome<FrameSheet>? frame = request.Frame is { } paper ? FrameLayout.Of(card, request.MarkerSideMm, paper) : null;
        if (frame?.Refusal is { } refusal) return refusal;
        double[] lefts = Starts(columns, width, rim, card.WidthMm);
        double[] tops = Starts(rows, height, rim, card.HeightMm);
        IEnumerable<Cell> cells =
            from row in Enumerable.Range(0, rows)
            from column in Enumerable.Range(0, columns)
            select Filled(request, new Cell
            {
                Row = row,
                Column = column,
                XMm = lefts[column],
                YMm = tops[row],
                WidthMm = width,
                HeightMm = request.Process == Process.Engrave && request.Kind == CardKind.Grid
                    ? CellContent.FilledHeightMm(height, grid.LineIntervalMm(row, column))
                    : height,
            });
        Fiducials corners = Corners(request.Number, card, EdgeOf(request), request.MarkerSideMm);
        return new CardLayout(card, corners, frame?.Value, cells.ToValueList());
    }

    private static double EdgeOf(PlanRequest request) =>
        request.Frame is null ? Math.Clamp(EdgeShare * request.MarkerSideMm, LeastEdgeMm, EdgeMm) : EdgeMm;

    /// <summary>Height of a place in the grid, mm; a filled cell may be a little less high.</summary>
    private static double HeightOf(PlanRequest request) =>
        request.Kind == CardKind.FocusLadder ? CellContent.LadderHeight * request.CellSideMm : request.CellSideMm;

    private static Cell Filled(PlanRequest request, Cell cell) =>
        request.Kind == CardKind.FocusLadder ? cell with { Lines = CellContent.Ladder(cell) }
        : request.TabsPerSide > 0 ? cell with { Tabs = CellContent.Tabs(cell, request.TabsPerSide, request.TabMm) }
        : cell;

    private static double Extent(int count, double cell, double gap) => count * cell + (count - 1) * gap;

    /// <summary>Where cells begin along one direction: evenly spread, a single one in the middle.</summary>
    private static double[] Starts(int count, double cell, double rim, double length)
    {
        double free = length - 2 * rim - cell;
        return count == 1
            ? [CellContent.Rounded(rim + free / 2)]
            : [.. Enumerable.Range(0, count).Select(i => CellContent.Rounded(rim + free * i / (count - 1)))];
    }

    /// <summary>The four markers of a card.</summary>
    /// <param name="number">Its number.</param>
    /// <param name="card">Its size.</param>
    /// <param name="edge">From its edges to the markers, mm.</param>
    /// <param name="side">Side of a marker, mm.</param>
    internal static Fiducials Corners(int number, CardSize card, double edge, double side)
    {
        double right = CellContent.Rounded(card.WidthMm - edge - side), bottom = CellContent.Rounded(card.HeightMm - edge - side);
        int first = 4 * number;
        return new()
        {
            Dictionary = Fiducials.OnlyDictionary,
            SideMm = side,
            Markers =
            [
                new() { Id = first, XMm = edge, YMm = edge },
                new() { Id = first + 1, XMm = right, YMm = edge },
                new() { Id = first + 2, XMm = right, YMm = bottom },
                new() { Id = first + 3, XMm = edge, YMm = bottom },
            ],
        };
    }
}
