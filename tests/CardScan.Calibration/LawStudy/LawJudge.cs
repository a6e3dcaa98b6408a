using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Calibration;

/// <summary>Holds what a scored reading states against the card's law.</summary>
internal static class LawJudge
{
    /// <summary>Limits are rounded in the file; a hair outside is inside.</summary>
    private const double Rounding = 1e-4;

    public static LawResult Of(TrueCard card, Reading reading) => Of(card, reading, CardScorer.Score(reading, ScoringOptions.Default));

    /// <summary>A chain by its newest card, scored with the earlier ones and judged as one of them.</summary>
    public static LawResult Of(ChainCards chain) => Of(chain.Truth, chain.Newest, chain.Scored);

    private static LawResult Of(TrueCard card, Reading reading, Reading scored)
    {
        Recommendation? burned = scored.Recommendations.FirstOrDefault(one => one.Goal == card.Goal);
        return new(
            burned is null ? null : Stated(card, burned.PowerPercent, burned.SpeedMmPerMin, burned.Confidence, burned.Interval),
            burned?.Unburned is { } between
                ? Stated(card, between.PowerPercent, between.SpeedMmPerMin, between.Confidence, between.Interval)
                : null,
            reading.Cells.Count(cell => card.IsSeen(cell) && card.ReachesGoal(cell.Settings.PowerPercent, cell.Settings.SpeedMmPerMin)),
            BoundaryOf(card, scored));
    }

    private static StatedSetting Stated(TrueCard card, double powerPercent, double speedMmPerMin, double? stated, Interval? interval)
    {
        double worth = card.Worth(powerPercent, speedMmPerMin);
        bool? isIntervalRight = interval is null ? null : Holds(interval.Low, interval.High, worth);
        return new(powerPercent, speedMmPerMin, stated, worth, card.WorthAtWeakest(powerPercent, speedMmPerMin), isIntervalRight);
    }

    private static BoundaryCount BoundaryOf(TrueCard card, Reading scored)
    {
        (BoundaryPoint Point, double Truth)[] points =
        [
            .. (scored.Boundary ?? []).Where(point => point.Goal == card.Goal)
                .Select(point => (point, card.BoundaryPower(point.SpeedMmPerMin) ?? double.PositiveInfinity)),
        ];
        return new(points.Length, points.Count(one => Holds(one.Point.Low, one.Point.High, one.Truth)),
            points.Count(one => one.Truth > one.Point.High + Rounding));
    }

    private static bool Holds(double low, double high, double truth) => truth >= low - Rounding && truth <= high + Rounding;
}
