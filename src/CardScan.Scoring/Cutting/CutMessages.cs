using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;
using static CardScan.Model.Rounding;

namespace CardScan.Scoring.Cutting;

/// <summary>What a maker reads about a cut card.</summary>
internal static class CutMessages
{
    /// <summary>A risk of a held side below which more margin is not worth a word.</summary>
    private const double NegligibleRisk = 0.0005;

    /// <summary>Part of the speed that the margin in words gives up.</summary>
    private const double MarginShare = 0.1;

    /// <summary>Cells that a sentence names at most.</summary>
    private const int MostNamed = 5;

    /// <summary>How much further a card goes that found no limit: about the step of a first card's rows.</summary>
    private const double FurtherSpeed = 1.6;

    /// <summary>A shorter bridge is not worth naming, mm.</summary>
    private const double ShortestBridgeMm = 0.05;

    /// <summary>Power from which on the next card cannot have much more, percent.</summary>
    private const double NearlyFullPower = 95;

    /// <summary>Why the sure cut is one, what margin costs, and why a faster setting that fell free is not recommended.</summary>
    public static IEnumerable<Reason> SureCut(
        CutEstimate chosen, CutEstimate? faster, CutLaw law, CutStability stability, double confidence)
    {
        string kind = chosen.Energy.Value < confidence ? "likeliest" : IsCalledSure(chosen, confidence) ? "sure" : "enough";
        yield return new(Codes.SureCutChosen, ("kind", kind), ("setting", NameOf(chosen)));
        foreach (Reason reason in Free(chosen, law, confidence)) yield return reason;
        if (Margin(chosen, law) is { } margin) yield return margin;
        if (faster is not null)
        {
            yield return new(Codes.SureCutFaster,
                ("setting", NameOf(faster)), ("chance", Chance(faster.Through)), ("risk", Share(1 - faster.Through.Value)));
        }

        if (stability.Lowest < confidence)
            yield return new(Codes.SureCutOneCell, ("setting", NameOf(stability.Weightiest)), ("chance", Share(stability.Lowest)));
    }

    /// <summary>Why the clean cut is one.</summary>
    public static IEnumerable<Reason> CleanCut(CutEstimate chosen, CutLaw law, double confidence)
    {
        (string, Figure)[] values = [("sure", Is(IsCalledSure(chosen, confidence))), ("setting", NameOf(chosen))];
        yield return new(Codes.CleanCutChosen, chosen.Cell.HaloMm is { } halo ? [.. values, ("halo", Mm(halo))] : values);
        foreach (Reason reason in Free(chosen, law, confidence)) yield return reason;
    }

    /// <summary>As the page and the terminal call it: what was asked for, and no less than what makes a cut a sure one.</summary>
    private static bool IsCalledSure(CutEstimate chosen, double confidence) =>
        CutScorer.IsSure(chosen.Through, confidence) && CutScorer.StatedOf(chosen.Through, confidence) >= Reading.LeastSureCut;

    /// <summary>A setting between tested ones that the model expects to be faster.</summary>
    public static Reason Between(Estimate through, double secondsPerMetre, CutEstimate tested) => new(Codes.UntestedFasterCut,
        ("chance", Chance(through)), ("time", Seconds(secondsPerMetre)),
        ("setting", NameOf(tested)), ("tested", Seconds(tested.Cell.SecondsPerMetre)));

    /// <summary>What besides too little energy shaped this card.</summary>
    public static IEnumerable<Advice> Causes(CutLaw law, CutCard card, IReadOnlyList<CutCell> spoiled, Plan plan)
    {
        CutCell[] unexplained = [.. spoiled.Where(cell => !law.Anyway.Held.Contains(cell))];
        if (unexplained.Length > 0) yield return Spoiled(unexplained, plan);
        if (law.Anyway.Held.Count > 0) yield return HeldAnyway(law.Anyway, plan);
        if (law.Bridges.Count > 0) yield return Bridged(law.Bridges, card);
        if (law.Slow is not null) yield return ClosesAgain(card);
    }

    public static Advice CardsDisagree(IReadOnlyCollection<Reading> others) =>
        new(Codes.CardsDisagree, ("cards", List(others.Select(other => other.Plan.Number))), ("count", others.Count));

    public static Advice NoSides(Reading reading) =>
        new(Codes.NoSidesJudged, ("lit", Is(reading.Photos.Any(photo => photo.Light == Light.Back))));

    public static Advice AllThrough(CutCard card)
    {
        double fastest = card.Cells.Max(cell => cell.Settings.SpeedMmPerMin), lowest = card.Cells.Min(cell => cell.Settings.PowerPercent);
        return new(Codes.AllThrough, ("weakest", NameOf(Weakest(card.Cells))), ("fastest", Speed(fastest)), ("power", Power(lowest)),
            ("faster", Speed(TwoFigures(FurtherSpeed * fastest))), ("weaker", Power(Math.Max(1, Math.Round(lowest / FurtherSpeed)))));
    }

    public static Advice NoneThrough(CutCard card)
    {
        CutCell strongest = Strongest(card.Cells);
        CellSettings settings = strongest.Settings;
        return new(Codes.NoneThrough,
            ("strongest", NameOf(strongest)), ("open", Share(strongest.Sides.Average(side => side.OpenFraction))),
            ("slower", Speed(TwoFigures(settings.SpeedMmPerMin / FurtherSpeed))),
            settings.PowerPercent < NearlyFullPower ? ("power", Power(settings.PowerPercent)) : ("passes", settings.Passes + 1));
    }

    public static Advice NoSureCut(CutEstimate best, double? speedReaching, double confidence)
    {
        (string, Figure)[] values =
            [("kind", "near"), ("nearest", NameOf(best)), ("chance", Chance(best.Through)), ("demanded", Share(confidence))];
        return new(Codes.NoSureCut, speedReaching is { } speed && TwoFigures(speed) < best.SpeedMmPerMin
            ? [.. values, ("speed", Speed(TwoFigures(speed))), ("power", Power(best.PowerPercent))]
            : values) { Goal = Goal.SureCut };
    }

    public static Advice NoCutBetweenEnds(CutEstimate best) => Without("between-ends", best);

    public static Advice SureButUnjudged(CutEstimate unjudged) => Without("unjudged", unjudged);

    /// <summary>
    /// Null where every cell, or one with no more energy, was seen through. Unseen sides may be held ones; without a thickness no
    /// dark side is ever called closed.
    /// </summary>
    public static Advice? SidesMissing(CutCard card, Reading reading)
    {
        CutCell[] through = [.. card.Cells.Where(cell => cell.IsSeenThrough)];
        int doubtful = reading.Cells.Count(cell => !through.Any(seen => seen.HasNoMoreDoseThan(cell.Settings)));
        if (doubtful == 0) return null;
        (string, Figure)[] values = [("thickness", reading.Plan.Material.ThicknessMm is null ? "missing" : "known"), ("cells", doubtful)];
        if (through.Length > 0) values = [.. values, ("weakest", NameOf(Weakest(through)))];
        return new(Codes.SidesMissing, values) { Goal = Goal.SureCut };
    }

    public static Advice Reversed() => new(Codes.CutOrderReversed);

    public static Advice NoModel() => new(Codes.NoCutModel);

    public static Advice UnseenCells(int cells) => new(Codes.UnseenCells, ("strongest", Is(false)), ("cells", cells));

    /// <summary>Where the strongest cells were not seen, a card burned with more would be burned for nothing.</summary>
    public static Advice StrongestUnseen(int cells) => new(Codes.UnseenCells, ("strongest", Is(true)), ("cells", cells));

    /// <summary>A probability with its interval, as the files have it.</summary>
    public static Number Chance(Estimate probability) =>
        Share(CutScorer.Rounded(probability.Value), CutScorer.Rounded(probability.Low), CutScorer.Rounded(probability.High));

    /// <summary>What became of the cells with enough energy, and how often the next cut comes free, or how often at least.</summary>
    private static IEnumerable<Reason> Free(CutEstimate chosen, CutLaw law, double confidence)
    {
        bool isHeld = law.Bridges.Count > 0 || law.Anyway.Held.Count > 0;
        if (isHeld || chosen.Energy.Low < confidence) yield return new(Codes.CutByEnergy, ("chance", Chance(chosen.Energy)));
        yield return isHeld ? CellsHeld(law) : new(Codes.CutCellsFree, ("cells", law.Anyway.Enough.Count));
        if (CutScorer.IsSure(chosen.Through, confidence))
        {
            yield return new(Codes.CutComesFree, ("chance", Chance(chosen.Through)));
            yield break;
        }

        bool isEnergyUnknown = chosen.Energy.Low < confidence && chosen.Energy.Low <= law.OtherwiseAt(chosen.Cell).Low;
        yield return new(Codes.CutCountOn, ("least", Share(CutScorer.Rounded(chosen.Through.Low))), ("chance", Chance(chosen.Through)),
            ("why", isHeld ? "held" : isEnergyUnknown ? "energy" : "few"));
    }

    private static Reason CellsHeld(CutLaw law)
    {
        List<(string, Figure)> values = [];
        if (law.Bridges.Count > 0) values.AddRange([("bridged", law.Bridges.Count), ("sides", law.Bridges.Sides)]);
        if (law.Anyway.Held.Count > 0) values.AddRange([("held", law.Anyway.Held.Count), ("cells", law.Anyway.Enough.Count)]);
        return new(Codes.CutCellsHeld, values);
    }

    /// <summary>
    /// What going slower costs and saves, of the whole risk: what holds a cut in spite of its energy stays; null where it saves
    /// nothing.
    /// </summary>
    private static Reason? Margin(CutEstimate chosen, CutLaw law)
    {
        // Where a slow end was seen, slower is no margin.
        if (law.Slow is not null) return null;
        double stated = chosen.Through.Value;
        if (stated > 1 - NegligibleRisk) return null;
        CutPoint slowed = chosen.Cell.Point with { LnSpeed = chosen.Cell.Point.LnSpeed + Math.Log(1 - MarginShare) };
        double slower = law.Fast.Expected(slowed).And(law.OtherwiseAt(chosen.Cell)).Value;
        (Number risk, Number lowered) = (Share(1 - stated), Share(1 - slower));
        double seconds = chosen.Cell.SecondsPerMetre * (1 / (1 - MarginShare) - 1);
        return slower <= stated || Voice.Tell(risk) == Voice.Tell(lowered)
            ? null
            : new(Codes.SureCutMargin, ("less", Share(MarginShare)), ("time", Seconds(seconds)), ("risk", risk), ("lowered", lowered));
    }

    private static Advice HeldAnyway(HeldAnyway anyway, Plan plan) => new(Codes.HeldAnyway,
        ("held", anyway.Held.Count), ("cells", anyway.Enough.Count), ("named", Named(anyway.Held, plan)), ("chance", Chance(anyway.None)));

    private static Advice ClosesAgain(CutCard card)
    {
        CutCell[] through = [.. card.Cells.Where(cell => cell.IsSeenThrough)];
        CutCell[] closed = [.. card.Cells.Where(cell => cell.Sides.Any(side => !side.IsThrough && side.SlowVote > 0.5))];
        if (card.IsEndDoubtful && closed.Length > 0)
            return new(Codes.ClosesAgain, ("doubtful", Is(true)), ("strongest", NameOf(Strongest(closed))));
        List<(string, Figure)> values = [("doubtful", Is(false))];
        if (closed.Length > 0) values.AddRange([("closed", closed.Length), ("closing", NameOf(Weakest(closed)))]);
        if (through.Length > 0) values.AddRange([("from", NameOf(Weakest(through))), ("to", NameOf(Strongest(through)))]);
        return new(Codes.ClosesAgain, values);
    }

    private static Advice Spoiled(CutCell[] cells, Plan plan) =>
        new(Codes.OutlierCells, ("process", "cut"), ("cells", Named(cells, plan)), ("count", cells.Length));

    private static Advice Bridged(Bridges bridges, CutCard card)
    {
        CutCell[] cells = [.. card.Cells.Where(cell => cell.Sides.Any(side => side.IsBridged))];
        double? longest = cells.SelectMany(cell => cell.Sides).Where(side => side.IsBridged).Max(side => side.LongestBridgeMm);
        (string, Figure)[] values =
            [("bridged", bridges.Count), ("sides", bridges.Sides), ("cells", cells.Length), ("strongest", NameOf(Strongest(cells)))];
        return new(Codes.BridgedSides, longest is >= ShortestBridgeMm and { } mm ? [.. values, ("longest", Mm(mm))] : values);
    }

    private static Advice Without(string kind, CutEstimate nearest) =>
        new(Codes.NoSureCut, ("kind", kind), ("nearest", NameOf(nearest)), ("chance", Chance(nearest.Through))) { Goal = Goal.SureCut };

    private static CutCell Weakest(IEnumerable<CutCell> cells) => cells.MinBy(cell => cell.LnEnergy)!;

    private static CutCell Strongest(IEnumerable<CutCell> cells) => cells.MaxBy(cell => cell.LnEnergy)!;

    private static SettingFigure NameOf(CutEstimate estimate) => NameOf(estimate.Cell);

    private static SettingFigure NameOf(CutCell cell) => cell.Settings.ToFigure();

    private static Figure Named(IReadOnlyCollection<CutCell> cells, Plan plan)
    {
        Listing named = List(cells.Take(MostNamed).Select(cell => cell.Settings.ToFigure(plan)));
        return cells.Count <= MostNamed ? named : new Phrase("name.and-more", ("named", named), ("more", cells.Count - MostNamed));
    }
}
