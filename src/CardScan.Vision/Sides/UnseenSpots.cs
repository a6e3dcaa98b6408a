using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Where to hold the phone for the sides that no photo has shown yet.</summary>
internal static class UnseenSpots
{
    /// <summary>A warning that names the quarters of the card with unseen sides, most first; null where all are judged.</summary>
    public static Warning? Describe(Plan plan, IReadOnlyList<CellReading> cells)
    {
        var quarters = plan.Cells.Zip(cells)
            .Select(pair => (Quarter: QuarterOf(pair.First, plan.Card), Unseen: Count(pair.Second.Sides)))
            .GroupBy(cell => cell.Quarter)
            .Select(group => (Quarter: group.Key, Unseen: group.Sum(cell => cell.Unseen)))
            .Where(group => group.Unseen > 0)
            .OrderByDescending(group => group.Unseen)
            .ToArray();
        if (quarters.Length == 0) return null;

        int all = quarters.Sum(group => group.Unseen);
        string places = string.Join(", then over its ", quarters.Select(group => $"{group.Quarter} quarter ({group.Unseen} sides)"));
        return new("sides-unseen", $"{all} of {4 * plan.Cells.Count} sides could not be judged: through a kerf this deep light is seen only from straight above, and only in a sharp photo. Step back and zoom in, with the phone level, so that its edges are seen at less of an angle; for what is still unseen, centre the phone over the card's {places}, and give all the photos together.");
    }

    private static int Count(Sides? sides) =>
        sides is null ? 4 : new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.Count(side => side.State == SideState.Unseen);

    private static string QuarterOf(Cell cell, CardSize card)
    {
        string down = cell.YMm + cell.HeightMm / 2 < card.HeightMm / 2 ? "upper" : "lower";
        string across = cell.XMm + cell.WidthMm / 2 < card.WidthMm / 2 ? "left" : "right";
        return $"{down} {across}";
    }
}
