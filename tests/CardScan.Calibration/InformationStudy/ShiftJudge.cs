using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Whether the answer lies inside a card that was planned further on.</summary>
internal static class ShiftJudge
{
    /// <summary>Dose beyond the card's highest at which a mark still counts as the material's strongest.</summary>
    private const double FarBeyond = 4;

    /// <summary>
    /// True where by the law some cell reaches the goal and some cell clearly misses it; a full mark is counted against
    /// what the material would reach further on.
    /// </summary>
    public static bool HoldsTheAnswer(TrueCard first, NextRanges next)
    {
        Grid grid = new(first.Grid.Process, [.. next.PowersPercent], [.. next.SpeedsMmPerMin]);
        TrueCard card = first.On(grid);
        if (card is EngravedTruth marks)
        {
            double strongest = Math.Max(marks.Strongest, marks.Strength(grid.PowersPercent.Max(), grid.SpeedsMmPerMin.Min() / FarBeyond));
            double[] shares = [.. grid.Settings.Select(s => marks.Strength(s.PowerPercent, s.SpeedMmPerMin) / strongest)];
            return shares.Max() >= TrueCard.GoalLimit && shares.Min() < TrueCard.GoalLimit;
        }

        double[] worths = [.. grid.Settings.Select(s => card.Worth(s.PowerPercent, s.SpeedMmPerMin))];
        return worths.Max() >= TrueCard.GoalLimit && worths.Min() < 0.5;
    }
}
