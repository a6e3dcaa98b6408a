using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>What photos have shown of a cut card, and where the next one is to be taken.</summary>
/// <param name="SeenSides">Sides that some photo showed well enough to be judged.</param>
/// <param name="AllSides">Sides of the card.</param>
/// <param name="IsSettled">
/// True where the settings are the same whether all sides that are still unseen are through or all of them are held: another
/// photo would not change the answer.
/// </param>
/// <param name="HoldAt">Where the phone is to be above the card, in its frame, mm; null where no side is unseen.</param>
public sealed record PhotoGuide(int SeenSides, int AllSides, bool IsSettled, (double XMm, double YMm)? HoldAt)
{
    /// <summary>Guides whoever photographs a card.</summary>
    /// <param name="reading">What was read of the card so far.</param>
    /// <returns>The guide; null for a card that has no sides to be seen.</returns>
    public static PhotoGuide? Of(Reading reading)
    {
        ArgumentNullException.ThrowIfNull(reading);
        if (reading.Plan.Process != Process.Cut) return null;
        Dictionary<(int, int), Sides?> found = reading.Cells.ToDictionary(cell => (cell.Row, cell.Column), cell => cell.Sides);
        Spot[] unseen = [.. reading.Plan.Cells.SelectMany(cell => Unseen(cell, found.GetValueOrDefault((cell.Row, cell.Column))))];
        int all = 4 * reading.Plan.Cells.Count;
        return new(all - unseen.Length, all, unseen.Length == 0 || IsTheSame(reading), HoldOver(unseen, reading.Plan.Card));
    }

    private static IEnumerable<Spot> Unseen(Cell cell, Sides? sides)
    {
        (double x, double y) = (cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);
        if (IsUnseen(sides?.Left)) yield return new(cell.XMm, y, IsUpright: true);
        if (IsUnseen(sides?.Right)) yield return new(cell.XMm + cell.WidthMm, y, IsUpright: true);
        if (IsUnseen(sides?.Top)) yield return new(x, cell.YMm, IsUpright: false);
        if (IsUnseen(sides?.Bottom)) yield return new(x, cell.YMm + cell.HeightMm, IsUpright: false);
    }

    private static bool IsUnseen(SideReading? side) => side is null or { State: SideState.Unseen };

    /// <summary>
    /// The middle of what is unseen in the quarter that has most of it. Light comes through a slit to whoever is straight above
    /// its line: an upright one asks for a place along x, a level one for a place along y.
    /// </summary>
    private static (double, double)? HoldOver(Spot[] unseen, CardSize card)
    {
        if (unseen.Length == 0) return null;
        Spot[] quarter = [.. unseen.GroupBy(spot => (spot.XMm < card.WidthMm / 2, spot.YMm < card.HeightMm / 2))
            .MaxBy(group => group.Count())!];
        return (
            quarter.Where(spot => spot.IsUpright).Select(spot => spot.XMm).DefaultIfEmpty(quarter.Average(spot => spot.XMm)).Average(),
            quarter.Where(spot => !spot.IsUpright).Select(spot => spot.YMm).DefaultIfEmpty(quarter.Average(spot => spot.YMm)).Average());
    }

    private static bool IsTheSame(Reading reading)
    {
        SideReading open = new() { State = SideState.Open, OpenFraction = 1, SeenFraction = 1 };
        SideReading held = new() { State = SideState.Closed, OpenFraction = 0, SeenFraction = 1 };
        return Settings(Supposing(reading, open)).SequenceEqual(Settings(Supposing(reading, held)));
    }

    private static IEnumerable<(string, double, double, int?)> Settings(Reading reading) =>
        CardScorer.Score(reading, [], ScoringOptions.Default).Recommendations
            .Select(each => (each.Goal, each.SpeedMmPerMin, each.PowerPercent, each.Passes));

    private static Reading Supposing(Reading reading, SideReading side) => reading with
    {
        Cells = reading.Cells.Select(cell => Supposing(cell, side)).ToValueList(),
    };

    private static CellReading Supposing(CellReading cell, SideReading side)
    {
        Sides sides = new(Or(cell.Sides?.Left), Or(cell.Sides?.Right), Or(cell.Sides?.Top), Or(cell.Sides?.Bottom));
        SideReading[] all = [sides.Left, sides.Right, sides.Top, sides.Bottom];
        Opening through = all.All(each => each.State == SideState.Open) ? Opening.Through
            : all.All(each => each.State == SideState.Closed) ? Opening.Closed : Opening.Partial;
        return cell with { Sides = sides, Through = through };

        SideReading Or(SideReading? seen) => IsUnseen(seen) ? side : seen!;
    }

    private sealed record Spot(double XMm, double YMm, bool IsUpright);
}
