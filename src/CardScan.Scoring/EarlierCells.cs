using CardScan.Model;

namespace CardScan.Scoring;

/// <summary>
/// Puts the cells of earlier cards beside the settings that stand on them: a reading must not need another's file to be read.
/// </summary>
internal static class EarlierCells
{
    /// <summary>The reading, each setting of an earlier card with what was measured of its cell.</summary>
    /// <param name="scored">The scored reading.</param>
    /// <param name="earlier">The readings that it was scored with, of different numbers.</param>
    public static Reading AddTo(Reading scored, ValueList<Reading> earlier) => scored with
    {
        Recommendations = scored.Recommendations
            .Select(recommendation => recommendation.Card is { } card
                ? recommendation with { EarlierCell = Of(recommendation, card, earlier) }
                : recommendation).ToValueList(),
    };

    /// <summary>Its place in a photo is left away: that photo is not among the reading's.</summary>
    private static CellReading? Of(Recommendation recommendation, int card, ValueList<Reading> earlier) =>
        earlier.FirstOrDefault(reading => reading.Plan.Number == card)?.Cells
            .FirstOrDefault(cell => recommendation.Cell is { } at && at.Row == cell.Row && at.Column == cell.Column) is { } burned
            ? burned with { CenterPx = null }
            : null;
}
