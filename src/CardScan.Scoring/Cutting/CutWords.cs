using CardScan.Model;
using static CardScan.Scoring.SettingWords;

namespace CardScan.Scoring.Cutting;

/// <summary>The sentences a maker reads about a cut card.</summary>
internal static class CutWords
{
    /// <summary>A risk of a held side below which more margin is not worth a word.</summary>
    private const double NegligibleRisk = 0.0005;

    /// <summary>Part of the speed that the margin in words gives up.</summary>
    private const double MarginShare = 0.1;

    /// <summary>Cells that a sentence names at most.</summary>
    private const int MostNamed = 5;

    /// <summary>How much further a card goes that found no limit: about the step of a first card's rows.</summary>
    private const double FurtherSpeed = 1.6;

    /// <summary>Why the sure cut is one, what margin costs, and why a faster setting that fell free is not recommended.</summary>
    public static string SureCut(CutEstimate chosen, CutEstimate? faster, CutLaw law, CutStability stability, double confidence)
    {
        string carried = stability.Lowest >= confidence ? ""
            : $" Much of this hangs on one cell: without that of {Setting(stability.Weightiest.Settings)} it would be {Percent(stability.Lowest)}.";
        string other = faster is null ? ""
            : $" {Setting(faster.Cell.Settings)} is faster and came through on this card, but its probability is {Interval(faster.Through)}:"
                + $" a risk of {Risk(faster.Through.Value)} that a side is held the next time.";
        string lead = chosen.Energy.Value < confidence ? "Between two ends this card leaves no cell sure; the likeliest is"
            : CutScorer.IsSure(chosen.Through, confidence) ? "Fastest tested setting that cuts surely:"
            : "Fastest tested setting with energy enough:";
        return $"{lead} {Setting(chosen.Cell.Settings)}.{Free(chosen, law, confidence)}{Margin(chosen, law)}{other}{carried}";
    }

    public static string CleanCut(CutEstimate chosen, CutLaw law, double confidence) =>
        (chosen.Cell.HaloMm is { } mm
            ? $"The setting with energy enough that chars least: {Setting(chosen.Cell.Settings)}, {mm:0.0#} mm beside the cut."
            : $"Char was not measured, so the setting with the least energy that is enough stands in: {Setting(chosen.Cell.Settings)}. A photo lit from the front would show the char.")
        + Free(chosen, law, confidence);

    /// <summary>How often the next cut comes free, or how often at least, and why no more is said.</summary>
    private static string Free(CutEstimate chosen, CutLaw law, double confidence)
    {
        bool isSure = CutScorer.IsSure(chosen.Through, confidence), isHeld = law.Bridges.Count > 0 || law.Anyway.Held.Count > 0;
        string energy = isHeld || chosen.Energy.Low < confidence ? $" By energy alone it cuts through with a probability of {Interval(chosen.Energy)}." : "";
        if (isSure) return $"{energy} {Seen(law)}. The next cut comes free on all four sides with a probability of {Interval(chosen.Through)}.";
        string why = isHeld ? ", which more energy is unlikely to fix"
            : chosen.Energy.Low < confidence && chosen.Energy.Low <= law.OtherwiseAt(chosen.Cell).Low ? ", but how much energy it takes is not known closely enough"
            : ", but so few prove little";
        return $"{energy} {Seen(law)}{why}. Count on {Percent(Rounded(chosen.Through.Low))}; the best estimate is {Interval(chosen.Through)}.{(isHeld ? "" : " Burn a card around it to be surer.")}";
    }

    /// <summary>What became of the cells and sides with energy enough.</summary>
    private static string Seen(CutLaw law)
    {
        string bridges = law.Bridges.Count == 0 ? "" : $"a short bridge held {law.Bridges.Count} of the {law.Bridges.Sides} sides with energy enough";
        string anyway = law.Anyway.Held.Count == 0 ? "" : HeldOf(law.Anyway);
        if ((bridges, anyway) is ("", "")) return law.Anyway.Enough.Count switch
        {
            1 => "The one cell with energy enough came free",
            2 => "Both cells with energy enough came free",
            int cells => $"All {cells} cells with energy enough came free",
        };
        return $"But {string.Join(", and ", ((string[])[bridges, anyway]).Where(part => part.Length > 0))}";
    }

    private static string HeldOf(HeldAnyway anyway) => $"{anyway.Held.Count} of the {anyway.Enough.Count} cells with energy enough {(anyway.Held.Count == 1 ? "was" : "were")} held all the same";

    /// <summary>What besides too little energy shaped this card.</summary>
    public static IEnumerable<Advice> Causes(CutLaw law, CutCard card, IReadOnlyList<CutCell> spoiled, Plan plan)
    {
        CutCell[] unexplained = [.. spoiled.Where(cell => !law.Anyway.Held.Contains(cell))];
        if (unexplained.Length > 0) yield return Spoiled(unexplained, plan);
        if (law.Anyway.Held.Count > 0) yield return HeldAnyway(law.Anyway, plan);
        if (law.Bridges.Count > 0) yield return Bridged(law.Bridges, card);
        if (law.Slow is not null) yield return ClosesAgain(card);
    }

    private static Advice HeldAnyway(HeldAnyway anyway, Plan plan) => new("held-anyway",
        $"{HeldOf(anyway)} ({string.Join(", ", anyway.Held.Take(MostNamed).Select(cell => Setting(cell.Settings, plan)))}{(anyway.Held.Count > MostNamed ? ", …" : "")}),"
        + $" so a setting with energy enough comes free with a probability of {Interval(anyway.None)}:"
        + " more energy is unlikely to fix it; look for knots, glue or a warped place, lay the sheet flat on few supports away from the cuts, and mind the air");

    private static Advice ClosesAgain(CutCard card)
    {
        CutCell[] through = [.. card.Cells.Where(cell => cell.IsSeenThrough)];
        CutCell[] closed = [.. card.Cells.Where(cell => cell.Sides.Any(side => !side.IsThrough && side.SlowVote > 0.5))];
        string seen = closed.Length == 0 ? "" : $" ({closed.Length} {(closed.Length == 1 ? "cell" : "cells")}, from {Setting(closed.MinBy(cell => cell.LnEnergy)!.Settings)} on)";
        string window = through.Length == 0 ? "" : $": it came through between {Setting(through.MinBy(cell => cell.LnEnergy)!.Settings)} and {Setting(through.MaxBy(cell => cell.LnEnergy)!.Settings)}";
        if (card.IsEndDoubtful && closed.Length > 0)
            return new("closes-again", $"{Setting(closed.MaxBy(cell => cell.LnEnergy)!.Settings)}, the most energy on this card, was held: by chance, or because this material closes again with too much; do not cure a held cut by going slower");
        return new("closes-again", $"with the most energy this material is held again{seen}, by melt that runs together or char that fills the cut{window}; stay away from both ends, and do not cure a held cut by going slower");
    }

    public static Advice CardsDisagree(IReadOnlyCollection<Reading> others) => new("cards-disagree",
        $"{(others.Count == 1 ? "card" : "cards")} {string.Join(", ", others.Select(other => other.Plan.Number))} {(others.Count == 1 ? "needs" : "need")} clearly more or less energy than this one, more than pieces of one material usually differ:"
        + " this card was scored alone; check batch, focus and lens, and which photo belongs to which card");

    public static Advice NoSides(Reading reading) => new("no-sides-judged", reading.Photos.Any(photo => photo.Light == Light.Back)
        ? "no side of any cell could be judged: take sharp photos of this card from straight above, before you burn another"
        : "no side of any cell could be judged: hold a lamp or light pad behind the card and take a photo from the burned face");

    public static Advice AllThrough(CutCard card)
    {
        CutCell weakest = card.Cells.MinBy(cell => cell.LnEnergy)!;
        double fastest = card.Cells.Max(cell => cell.Settings.SpeedMmPerMin), lowest = card.Cells.Min(cell => cell.Settings.PowerPercent);
        return new("all-through",
            $"all judged sides are through, even at {Setting(weakest.Settings)}: burn the next card faster than {fastest:0.#} mm/min or below {lowest:0.#} %,"
            + $" for instance up to {RoundSpeed(FurtherSpeed * fastest):0.#} mm/min at the same power, or down to {Math.Max(1, Math.Round(lowest / FurtherSpeed)):0} % at the same speed, to find where it stops");
    }

    public static Advice NoneThrough(CutCard card)
    {
        CutCell strongest = card.Cells.MaxBy(cell => cell.LnEnergy)!;
        double open = strongest.Sides.Average(side => side.OpenFraction);
        CellSettings settings = strongest.Settings;
        string more = settings.PowerPercent < 95 ? $"at up to 100 % instead of {settings.PowerPercent:0.#} %" : $"with {settings.Passes + 1} passes";
        return new("none-through",
            $"no side is through; the cell with the most energy, {Setting(settings)}, is open along {100 * open:0} % of its judged sides:"
            + $" burn the next card slower, down to about {RoundSpeed(settings.SpeedMmPerMin / FurtherSpeed):0.#} mm/min, or {more}");
    }

    public static Advice NoSureCut(CutEstimate best, double? speedReaching, double confidence) => new("no-sure-cut",
        $"no burned cell is surely enough through on all sides; the nearest is {Setting(best.Cell.Settings)},"
        + $" probability {Interval(best.Through)}, and {Percent(confidence)} is demanded of the lower end of that 95 % interval: burn a card around it, slower or with more power"
        + (speedReaching is { } speed && RoundSpeed(speed) < best.SpeedMmPerMin ? $"; by best estimate {RoundSpeed(speed):0.#} mm/min at {best.PowerPercent:0.#} % would do" : ""))
    { Goal = Goal.SureCut };

    public static Advice NoCutBetweenEnds(CutEstimate best) => new("no-sure-cut",
        $"no burned cell is surely enough through on all sides, and both faster and slower ones were held; the nearest is {Setting(best.Cell.Settings)},"
        + $" probability {Interval(best.Through)}: burn a card with finer steps around it")
    { Goal = Goal.SureCut };

    public static Advice SureButUnjudged(CutEstimate unjudged) => new("no-sure-cut",
        $"{Setting(unjudged.Cell.Settings)} has energy enough by the model, probability {Interval(unjudged.Through)}, but not all of its four sides could be judged, and no cell of which all were is surely enough through:"
        + " take another photo from straight above it")
    { Goal = Goal.SureCut };

    /// <summary>Null where every cell, or one with no more energy, was seen through. Unseen sides may be held ones; without a thickness no dark side is ever called closed.</summary>
    public static Advice? SidesMissing(CutCard card, Reading reading)
    {
        CutCell[] through = [.. card.Cells.Where(cell => cell.IsSeenThrough)];
        int doubtful = reading.Cells.Count(cell => !through.Any(seen => seen.HasNoMoreDoseThan(cell.Settings)));
        return doubtful == 0 ? null : new("sides-missing",
            $"no side was seen held, but {doubtful} {(doubtful == 1 ? "cell has" : "cells have")} sides that could not be judged and may be held, so no cut is called sure"
            + (through.Length == 0 ? "" : $" (through on all four sides with the least energy: {Setting(through.MinBy(cell => cell.LnEnergy)!.Settings)})")
            + (reading.Plan.Material.ThicknessMm is null ? ": give the thickness (material.thicknessMm) in the plan, without which no dark side can be called held, and read the photos again"
                : ": take more photos, each from straight above such cells"))
        { Goal = Goal.SureCut };
    }

    public static Advice Reversed() => new("cut-order-reversed",
        "sides open with less power or more speed along the rows or columns of this card: check that this is the plan of this card and that no axis is reversed");

    public static Advice NoModel() => new("no-cut-model",
        "power and speed do not vary over the judged cells, so no limit can be estimated: burn a card with several powers and speeds");

    public static Advice UnseenCells(int cells) => new("unseen-cells",
        $"{cells} {(cells == 1 ? "cell has" : "cells have")} no side that could be judged: a photo from above {(cells == 1 ? "it" : "them")} would complete the card");

    /// <summary>Where the strongest cells were not seen, a card burned with more would be burned for nothing.</summary>
    public static Advice StrongestUnseen(int cells) => new("unseen-cells",
        $"{cells} {(cells == 1 ? "cell has" : "cells have")} no side that could be judged, the ones with the most energy among them: take better photos of this card, from straight above them, before you burn another");

    private static Advice Spoiled(CutCell[] cells, Plan plan) => new("outlier-cells",
        $"{string.Join(", ", cells.Select(cell => Setting(cell.Settings, plan)))} {(cells.Length == 1 ? "does" : "do")} not fit the other cells and {(cells.Length == 1 ? "was" : "were")} left out:"
        + " look there for a knot, a line of glue or a warped place");

    private static Advice Bridged(Bridges bridges, CutCard card)
    {
        CutCell[] cells = [.. card.Cells.Where(cell => cell.Sides.Any(side => side.IsBridged))];
        string longest = cells.SelectMany(cell => cell.Sides).Where(side => side.IsBridged).Max(side => side.LongestBridgeMm) is >= 0.05 and { } mm ? $" (up to {mm:0.0} mm)" : "";
        return new("bridged-sides",
            $"{bridges.Count} of the {bridges.Sides} sides that got enough energy, in {cells.Length} {(cells.Length == 1 ? "cell" : "cells")}, {(bridges.Count == 1 ? "is" : "are")} held by a short bridge{longest},"
            + $" the strongest of them at {Setting(cells.MaxBy(cell => cell.LnEnergy)!.Settings)}: more energy is unlikely to fix it; look at corners, supports and knots, and expect to need a knife");
    }

    /// <summary>What going slower costs and saves.</summary>
    private static string Margin(CutEstimate chosen, CutLaw law)
    {
        // Where a slow end was seen, slower is no margin.
        if (law.Slow is not null) return "";
        CutModel model = law.Fast;
        double stated = chosen.Energy.Value;
        if (stated > 1 - NegligibleRisk) return "";
        double slower = model.Expected(chosen.Cell.Point with { LnSpeed = chosen.Cell.Point.LnSpeed + Math.Log(1 - MarginShare) }).Value;
        double seconds = chosen.Cell.SecondsPerMetre * (1 / (1 - MarginShare) - 1);
        return slower <= stated || Risk(slower) == Risk(stated) ? ""
            : $" {100 * MarginShare:0} % slower costs {seconds:0.#} s more for each metre and lowers the risk of a held side from {Risk(stated)} to {Risk(slower)}.";
    }

    /// <summary>"99.1 % [96 %, 99.8 %]".</summary>
    public static string Interval(Estimate probability) =>
        $"{Percent(Rounded(probability.Value))} [{Percent(Rounded(probability.Low))}, {Percent(Rounded(probability.High))}]";

    /// <summary>A probability for the files; no fitted model makes anything certain.</summary>
    public static double Rounded(double probability) => Math.Clamp(Math.Round(probability, 4), 0.0001, 0.9999);

    private static string Risk(double probability) => Percent(1 - probability);
}
