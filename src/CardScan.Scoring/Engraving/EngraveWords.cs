using CardScan.Model;
using CardScan.Scoring.Fitting;
using static CardScan.Scoring.SettingWords;

namespace CardScan.Scoring.Engraving;

/// <summary>The sentences a maker reads about an engraved card.</summary>
internal static class EngraveWords
{
    /// <summary>A faster setting less likely than this to be a full mark is not worth naming.</summary>
    public const double LeastGamble = 0.2;

    /// <summary>How much less dose a card beyond the peak is followed up with: about the reach of a card.</summary>
    private const double FurtherDose = 2.5;

    /// <summary>More cells than these are counted instead of named.</summary>
    private const int MostNamed = 6;

    public static string FastestFullMark(MarkEstimate chosen, MarkEstimate strongest, MarkEstimate? gamble, IEnumerable<MarkEstimate> all)
    {
        MarkEstimate? faster = all.Where(cell => cell.SecondsPerMm2 < chosen.SecondsPerMm2)
            .GroupBy(cell => cell.SecondsPerMm2).MaxBy(group => group.Key)?.MaxBy(cell => cell.Share);
        string next = gamble is not null
            ? $" {gamble.Marked.Cell.Name} is faster and may do: it reaches {Percent(gamble.Share, gamble.ShareLow, gamble.ShareHigh)}, a full mark with {Percent(gamble.FullMarkProbability)} probability."
            : faster is null ? " No faster setting was burned."
            : $" The next faster, {faster.Marked.Cell.Name}, reaches {Percent(faster.Share, faster.ShareLow, faster.ShareHigh)} at best.";
        return $"Fastest tested setting that reliably gives a full mark: {chosen.Marked.Cell.Name} reaches {Percent(chosen.Share, chosen.ShareLow, chosen.ShareHigh)}"
            + $" of the strongest mark on this card ({strongest.Marked.Cell.Name}).{next}";
    }

    public static string Darkest(MarkEstimate chosen, double haloLimitMm, DarkestPick pick, bool isLighter)
    {
        int passedOver = pick.PassedOver;
        string kind = isLighter ? "lightest" : "darkest";
        string halo = chosen.Marked.HaloMm is { } mm
            ? $"its halo is {mm:0.0#} mm, within the limit of {haloLimitMm:0.0#} mm"
            : "its halo was not measured";
        string others = passedOver == 0 ? ""
            : passedOver == 1 ? " One stronger cell spreads past that limit."
            : $" {passedOver} stronger cells spread past that limit.";
        string lead = pick.Strongest is { } strongest && chosen.Strength < EngraveGoals.NearlyDarkest * strongest.Strength
            ? $"{Percent(chosen.Strength / strongest.Strength)} of the strongest mark: the strongest, {strongest.Marked.Cell.Name}, has a halo of {strongest.Marked.HaloMm:0.0#} mm, past your limit of {haloLimitMm:0.0#} mm. Strongest mark within it"
            : "Strongest fitted mark";
        return $"{lead} ({kind}): {chosen.Marked.Cell.Name}, contrast {chosen.Strength:0.00}; {halo}.{others}";
    }

    public static Advice NothingMeasured(int burned) => new("nothing-measured",
        burned == 0 ? "no cell has a power and a speed: correct the plan's settings and read the photo again"
            : "no cell has a usable darkness: take the photo again without glare and with the whole card in the frame");

    public static Advice NoMark(EngravedCard card) => new("no-mark",
        $"no cell differs visibly from the bare material: burn the next card with more dose than {HighestDose(card)},"
        + $" slower than {card.Burned.Min(cell => cell.Settings.SpeedMmPerMin):0.#} mm/min or above {card.Burned.Max(cell => cell.Settings.PowerPercent):0.#} %");

    /// <summary>Burned past its best, or read with a wrong plan.</summary>
    public static Advice WeakensAllOver(EngravedCard card, DoseTrend trend)
    {
        CellSettings strongest = card.Marked.MaxBy(cell => cell.Strength)!.Cell.Settings;
        string faster = $"faster, from {strongest.SpeedMmPerMin:0.#} up to {RoundSpeed(FurtherDose * strongest.SpeedMmPerMin):0.#} mm/min";
        string weaker = $"weaker, from {strongest.PowerPercent:0.#} down to {Math.Max(1, Math.Round(strongest.PowerPercent / FurtherDose)):0} %";
        (string seen, string go) = trend switch
        {
            { WithTime: < 0, WithPower: < 0 } => ("with more energy", $"{faster}, or {weaker}"),
            { WithTime: < 0 } => ("the slower the beam goes", faster),
            _ => ("with more power", weaker),
        };
        return new("weakens-all-over",
            $"the mark gets weaker {seen}, so this card is burned past its best: go {go}. The strongest mark measured is {Setting(strongest)}."
            + " If that cannot be, check that this is the plan of this card and that no axis is reversed");
    }

    /// <summary>An earlier card that differs by more than cards burned alike do.</summary>
    public static Advice CardsDisagree(Plan earlier, CardAgreement agreement)
    {
        double dose = agreement.DoseFactor.Value - 1, mark = agreement.MarkFactor.Value - 1;
        string differs = Math.Abs(dose) / CardSpread.OfDose > Math.Abs(mark) / CardSpread.OfMark
            ? $"as if it had got {(dose < 0 ? "less" : "more")} energy at the same settings"
            : $"with {(mark < 0 ? "weaker" : "stronger")} marks at the same settings";
        return new("cards-disagree",
            $"card {earlier.Number} came out {differs}, more than cards that are burned alike differ, so it is left out here: check focus, lens and batch, and burn one of the two again if it matters");
    }

    public static Advice TooFewCells(EngravedCard card)
    {
        int cells = card.Marked.Count, lost = card.Burned.Count - cells;
        string seen = $"{cells} usable {(cells == 1 ? "cell is" : "cells are")} too few to compare settings";
        return new("too-few-cells", lost >= cells
            ? $"{seen}; {lost} more were burned but lost in the photo: take it again in soft light, with the whole card in the frame"
            : $"{seen}: burn a card with at least 3 settings, better 5 × 5");
    }

    public static Advice NotLevelledOff(PlateauTest levelling, EngravedCard card, bool isKnown)
    {
        BurnedCell strongest = card.Burned.MaxBy(cell => cell.LnDose)!;
        double slower = RoundSpeed(strongest.Settings.SpeedMmPerMin / levelling.DoseFactor);
        return new("not-levelled-off",
            $"the mark is not shown to have levelled off at the strongest cell ({strongest.Name}): it reaches {Reached(levelling)} of the mark the curve heads for,"
            + (isKnown ? " so a full mark here means of the strongest on this card, and more dose would make it stronger;" : " so no setting of this card can be called a full mark;")
            + $" burn the next card with up to {levelling.DoseFactor:0.0} times its dose,"
            + $" for instance down to {slower:0.#} mm/min at {strongest.Settings.PowerPercent:0.#} %")
        { Goal = Goal.FastestFullMark };
    }

    public static Advice LevellingUncertain(PlateauTest levelling, double fullMarkShare, EngravedCard card) => new("levelling-uncertain",
        $"this card does not settle whether the mark has levelled off: the strongest cell reaches {Reached(levelling)} of the mark the curve heads for;"
        + $" a full mark here means {Percent(fullMarkShare)} of the strongest mark inside the card, and a card that goes slower than"
        + $" {card.Burned.Min(cell => cell.Settings.SpeedMmPerMin):0.#} mm/min would show whether there is more")
    { Goal = Goal.FastestFullMark };

    private static string Reached(PlateauTest levelling) => Percent(levelling.PlateauShare, levelling.Low, levelling.High);

    public static Advice Saturated(SaturationTest alike, EngravedCard card)
    {
        double fastest = card.Burned.Max(cell => cell.Settings.SpeedMmPerMin);
        double lowest = card.Burned.Min(cell => cell.Settings.PowerPercent);
        return new("saturated",
            $"all cells are alike: the least dose still gives {Percent(alike.WeakestShare, alike.Low, alike.High)} of the mark of the highest;"
            + $" go faster than {fastest:0.#} mm/min or below {lowest:0.#} % power, for instance {RoundSpeed(2 * fastest):0.#} mm/min or {lowest / 2:0.#} %");
    }

    public static string SaturatedReason(MarkEstimate chosen, SaturationTest alike) =>
        $"All cells of this card are alike (the weakest end reaches {Percent(alike.WeakestShare, alike.Low, alike.High)} of the strongest),"
        + $" so the fastest burned setting with the least power serves: {chosen.Marked.Cell.Name}. Power can come down further.";

    public static Advice NoLaw(bool wasTried) => new("no-law",
        (wasTried ? "the marks follow none of the laws" : "these are too few cells for a law")
        + ": the settings are judged only by the rule that more power or less speed never weakens the mark, so intervals are rough;"
        + (wasTried ? " look for over-burned or stained cells, or for a focus that changed over the card" : " burn a larger card for a firmer answer"));

    public static Advice Weakens(double peakDose, bool isLaw) => new("weakens-at-high-dose",
        $"the mark is strongest near {peakDose:0.##} J/mm² and weakens again with more dose, as when a coat burns off or char turns to ash (or a shadow lies on the strongest cells: look at the photo):"
        + $" settings are judged by a curve that rises and then falls{(isLaw ? "" : ", without a law, so intervals are rough")}; more dose than that only costs time");

    /// <summary>One cell may be an accident; it bars the way up all the same.</summary>
    public static Advice WeakensAtEnd(MarkedCell last, EngravedCard card) => new("weakens-at-high-dose",
        $"the cell with the most energy, {last.Cell.Name}, came out weaker than {card.Marked.MaxBy(cell => cell.Strength)!.Cell.Name}: the mark may weaken from there on, so burn nothing stronger before you know");

    /// <summary>" The chance of a full mark is 91 %; 10 % slower raises it to 97 %, 10 % faster lowers it to 55 %."</summary>
    public static string Margin(SpeedMargin margin)
    {
        string chosen = Percent(margin.Chosen);
        return $" The chance of a full mark is {chosen};{(margin.Slower is { } slower ? $" 10 % slower {Moved(slower, chosen)}," : "")} 10 % faster {Moved(margin.Faster, chosen)}.";

        string Moved(double to, string from) => Percent(to) == from ? $"leaves it at {from}" : $"{(to > margin.Chosen ? "raises" : "lowers")} it to {Percent(to)}";
    }

    public static string Unburned(double gain, MarkEstimate chosen) =>
        $"{100 * gain:0} % faster than the tested setting ({chosen.Marked.Cell.Name}), and between tested ones: try it first";

    public static Advice NoOrder(IReadOnlyList<MarkedCell> against, EngravedCard card) => new("no-order",
        $"marks are weaker than those of less dose by far more than chance{(against.Count == 0 ? "" : $": {Named(against, card)}")}."
        + " Something lies on them, a shadow or a reflection crosses the photo, or this is the plan of another card; no setting is recommended:"
        + " wipe the card and take the photo again in even light");

    public static Advice NoFullMark(double confidence) => new("no-sure-full-mark",
        $"no burned cell is a full mark with {Percent(confidence)} probability: lower the demanded confidence or burn a card around the strongest cell")
    { Goal = Goal.FastestFullMark };

    public static Advice HaloLimit(double limitMm, MarkEstimate strongest) => new("halo-limit",
        $"no mark at least half as strong as the strongest ({strongest.Marked.Cell.Name}{(strongest.Marked.HaloMm is { } mm ? $", halo {mm:0.0#} mm" : "")})"
        + $" keeps its scorching within {limitMm:0.0#} mm: allow a wider halo, or burn a card with more speed and less power")
    { Goal = Goal.Darkest };

    public static Advice NoneBelievable() => new("no-strongest-mark",
        "no cell is known well enough to be called the strongest: those that may be contradict the fitted curve, or the curve says nothing of them; take the photo again, or burn a larger card")
    { Goal = Goal.Darkest };

    public static Advice Outliers(IReadOnlyCollection<MarkedCell> cells) => new("outlier-cells",
        $"{Named(cells)} {(cells.Count == 1 ? "does" : "do")} not fit the other cells and {(cells.Count == 1 ? "was" : "were")} left out: look there for a knot, a flame mark or a reflection");

    public static Advice PassedOver(IReadOnlyCollection<MarkedCell> cells) => new("passed-over-cells",
        $"{Named(cells)} {(cells.Count == 1 ? "is" : "are")} far weaker than the fit expects and {(cells.Count == 1 ? "was" : "were")} passed over: look there for dirt or a shadow");

    /// <summary>"row 1 (all of it)" where whole lines are meant, else the cells one by one.</summary>
    private static string Named(IReadOnlyList<MarkedCell> cells, EngravedCard card)
    {
        HashSet<CellAddress> addresses = [.. cells.Select(cell => cell.Cell.Address)];
        foreach ((string line, Func<MarkedCell, int> of) in new (string, Func<MarkedCell, int>)[]
            { ("row", cell => cell.Cell.Address.Row), ("column", cell => cell.Cell.Address.Column) })
        {
            int[] whole = [.. card.Marked.GroupBy(of).Where(group => group.Count() > 1 && group.All(cell => addresses.Contains(cell.Cell.Address))).Select(group => group.Key).Order()];
            if (whole.Length > 0 && cells.All(cell => whole.Contains(of(cell))))
                return $"all of {line} {string.Join(", ", whole.Select(index => index + 1))}";
        }

        return Named(cells);
    }

    private static string Named(IReadOnlyCollection<MarkedCell> cells)
    {
        string named = string.Join("; ", cells.Take(MostNamed)
            .Select(cell => $"row {cell.Cell.Address.Row + 1}, column {cell.Cell.Address.Column + 1} ({cell.Cell.Name})"));
        return cells.Count <= MostNamed ? named : $"{named}; and {cells.Count - MostNamed} more";
    }

    private static string HighestDose(EngravedCard card) => $"{Math.Exp(card.Burned.Max(cell => cell.LnDose)):0.##} J/mm²";
}
