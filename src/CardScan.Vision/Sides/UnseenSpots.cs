using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>Where to hold the phone for the sides that no photo has shown yet.</summary>
internal static class UnseenSpots
{
    /// <summary>A warning that names the quarters of the card with unseen sides, most first; null where all are judged.</summary>
    public static Warning? Describe(Plan plan, IReadOnlyList<CellReading> cells)
    {
        (Phrase Quarter, int Unseen)[] quarters = [.. plan.Cells.Zip(cells)
            .Select(pair => (Quarter: QuarterOf(pair.First, plan.Card), Unseen: Count(pair.Second.Sides)))
            .GroupBy(cell => cell.Quarter)
            .Select(group => (Quarter: group.Key, Unseen: group.Sum(cell => cell.Unseen)))
            .Where(group => group.Unseen > 0)
            .OrderByDescending(group => group.Unseen)];
        return quarters.Length == 0 ? null : new(Codes.SidesUnseen,
            ("unseen", quarters.Sum(group => group.Unseen)), ("all", 4 * plan.Cells.Count),
            ("quarters", List(quarters.Select(group =>
                (Figure)new Phrase("photo.unseen-quarter", ("quarter", group.Quarter), ("sides", group.Unseen))))));
    }

    private static int Count(Sides? sides) =>
        sides is null ? 4 : new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.Count(side => side.State == SideState.Unseen);

    private static Phrase QuarterOf(Cell cell, CardSize card) =>
        Quarters.Of(new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2), card.WidthMm, card.HeightMm);
}

/// <summary>Quarters of a card or a photo.</summary>
internal static class Quarters
{
    /// <summary>"upper left", for a message.</summary>
    /// <param name="at">A place.</param>
    /// <param name="width">Width of the whole.</param>
    /// <param name="height">Height of the whole.</param>
    public static Phrase Of(PlanePoint at, double width, double height) =>
        new("photo.quarter", ("down", at.Y < height / 2 ? "upper" : "lower"), ("across", at.X < width / 2 ? "left" : "right"));
}
