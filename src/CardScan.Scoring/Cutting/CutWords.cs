using CardScan.Model;
using static CardScan.Scoring.SettingWords;

namespace CardScan.Scoring.Cutting;

/// <summary>The sentences a maker reads about a cut card.</summary>
internal static class CutWords
{
    /// <summary>A risk of a held side below which more margin is not worth a word.</summary>
    private const double NegligibleRisk = 0.0005;

    public static string SureCut(CutEstimate chosen, CutModel model, IEnumerable<CutEstimate> all)
    {
        CutEstimate? faster = all.Where(cell => cell.Cell.IsSeenThrough && cell.SpeedMmPerMin > chosen.SpeedMmPerMin)
            .OrderByDescending(cell => cell.SpeedMmPerMin).ThenBy(cell => cell.PowerPercent).FirstOrDefault();
        string other = faster is null ? ""
            : $" {Setting(faster.Cell.Settings)} came through on this card too, but with a risk of {Risk(faster.Probability)} that a side is held the next time.";
        return $"Fastest burned setting whose four sides are through with enough certainty: {Setting(chosen.Cell.Settings)}, probability"
            + $" {Percent(chosen.Probability)} [{Percent(chosen.Low)}, {Percent(chosen.High)}].{Margin(chosen, model)}{other}";
    }

    public static string CleanCut(CutEstimate chosen) => chosen.Cell.HaloMm is { } mm
        ? $"Least char among the sure cuts: {Setting(chosen.Cell.Settings)}, {mm:0.0#} mm beside the cut."
        : $"Char was not measured, so the sure cut with the least energy stands in: {Setting(chosen.Cell.Settings)}. A photo lit from the front would show the char.";

    public static string AllThroughReason(CutCell chosen) =>
        $"Every judged side of this card is through, so the fastest burned setting with the least power serves: {Setting(chosen.Settings)}. Where it would fail this card does not show.";

    public static Advice NoSides() => new("no-sides-judged",
        "no side of any cell could be judged: hold a lamp or light pad behind the card and take a photo from the burned face");

    public static Advice AllThrough(CutCard card) => new("all-through",
        $"all judged sides are through, even at {Setting(card.Cells.MinBy(cell => cell.LnPower - cell.LnSpeed)!.Settings)}: burn the next card faster than"
        + $" {card.Cells.Max(cell => cell.Settings.SpeedMmPerMin):0.#} mm/min or below {card.Cells.Min(cell => cell.Settings.PowerPercent):0.#} %,"
        + $" for instance up to {RoundSpeed(1.6 * card.Cells.Max(cell => cell.Settings.SpeedMmPerMin)):0.#} mm/min, to find where it stops");

    public static Advice NoneThrough(CutCard card)
    {
        CutCell strongest = card.Cells.MaxBy(cell => cell.LnPower - cell.LnSpeed)!;
        double open = strongest.Sides.Average(side => side.OpenFraction);
        return new("none-through",
            $"no cell is through; the one with the most energy, {Setting(strongest.Settings)}, is open along {100 * open:0} % of its judged sides:"
            + $" burn the next card slower, down to about {RoundSpeed(strongest.Settings.SpeedMmPerMin / 1.6):0.#} mm/min"
            + $"{(strongest.Settings.PowerPercent < 95 ? ", or with more power" : ", or with one pass more")}");
    }

    public static Advice NoSureCut(CutEstimate best, double low, double confidence) => new("no-sure-cut",
        $"no burned cell is through on all sides with {Percent(confidence)} at the lower end of its 95 % interval; the nearest is {Setting(best.Cell.Settings)},"
        + $" probability {Percent(best.Probability)}, at least {Percent(low)}: burn a card around it, slower or with more power")
    { Goal = Goal.SureCut };

    public static Advice NoModel() => new("no-cut-model",
        "power and speed do not vary over the judged cells, so no limit can be estimated: burn a card with several powers and speeds");

    public static Advice UnseenCells(int cells) => new("unseen-cells",
        $"{cells} {(cells == 1 ? "cell has" : "cells have")} no side that could be judged: a photo from above {(cells == 1 ? "it" : "them")} would complete the card");

    private static string Margin(CutEstimate chosen, CutModel model)
    {
        if (chosen.Probability > 1 - NegligibleRisk) return "";
        double slower = CutEstimate.At(model, chosen.Cell.LnPower, chosen.Cell.LnSpeed + Math.Log(0.9));
        double secondsPerMetre = 1000 * BurnTime.SecondsPerMm(chosen.Cell.Settings) * (1 / 0.9 - 1);
        return $" Going 10 % slower costs {secondsPerMetre:0.#} s a metre and takes the risk of a held side from {Risk(chosen.Probability)} to {Risk(slower)}.";
    }

    private static string Risk(double probability) => Percent(1 - probability);
}
