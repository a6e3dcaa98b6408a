using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Fitting;
using static CardScan.Language.Figures;
using static CardScan.Model.Rounding;

namespace CardScan.Scoring.Engraving;

/// <summary>What a maker reads about an engraved card.</summary>
internal static class EngraveMessages
{
    /// <summary>A faster setting less likely than this to be a full mark is not worth naming.</summary>
    public const double LeastGamble = 0.2;

    /// <summary>How much less dose a card beyond the peak is followed up with: about the reach of a card.</summary>
    private const double FurtherDose = 2.5;

    /// <summary>More cells than these are counted instead of named.</summary>
    private const int MostNamed = 6;

    public static IEnumerable<Reason> FastestFullMark(MarkEstimate chosen, MarkEstimate strongest, MarkEstimate? gamble,
        IEnumerable<MarkEstimate> all)
    {
        yield return new(Codes.FullMarkChosen, ("setting", chosen.Name), ("share", ShareOf(chosen)), ("strongest", strongest.Name));
        MarkEstimate? faster = all.Where(cell => cell.SecondsPerMm2 < chosen.SecondsPerMm2)
            .GroupBy(cell => cell.SecondsPerMm2).MaxBy(group => group.Key)?.MaxBy(cell => cell.Share);
        if (gamble is not null)
            yield return new(Codes.FullMarkGamble, ("setting", gamble.Name), ("share", ShareOf(gamble)),
                ("chance", Share(gamble.FullMarkProbability)));
        else if (faster is not null) yield return new(Codes.FullMarkNextFaster, ("setting", faster.Name), ("share", ShareOf(faster)));
        else yield return new(Codes.FullMarkFastest);
    }

    public static IEnumerable<Reason> Darkest(MarkEstimate chosen, double haloLimitMm, DarkestPick pick, bool isLighter)
    {
        if (pick.Strongest is { } strongest && chosen.Strength < EngraveGoals.NearlyDarkest * strongest.Strength)
        {
            yield return new(Codes.DarkestShort, ("share", Share(chosen.Strength / strongest.Strength)), ("strongest", strongest.Name),
                ("halo", Mm(strongest.Marked.HaloMm!.Value)), ("limit", Mm(haloLimitMm)));
        }

        yield return new(Codes.DarkestChosen, ("kind", isLighter ? "lightest" : "darkest"), ("setting", chosen.Name),
            ("contrast", In(Unit.Contrast, chosen.Strength)));
        if (chosen.Marked.HaloMm is { } mm) yield return new(Codes.DarkestHalo, ("halo", Mm(mm)), ("limit", Mm(haloLimitMm)));
        else yield return new(Codes.DarkestHaloUnmeasured);
        if (pick.PassedOver > 0) yield return new(Codes.DarkestPassedOver, ("cells", pick.PassedOver));
    }

    public static Advice NothingMeasured(int burned) => new(Codes.NothingMeasured, ("burned", Is(burned > 0)));

    public static Advice NoMark(EngravedCard card) => new(Codes.NoMark,
        ("dose", In(Unit.JPerMm2, HighestDose(card))), ("speed", Speed(card.Burned.Min(cell => cell.Settings.SpeedMmPerMin))),
        ("power", HighestPower(card)));

    /// <summary>Burned past its best, or read with a wrong plan.</summary>
    public static Advice WeakensAllOver(EngravedCard card, DoseTrend trend)
    {
        CellSettings strongest = card.Marked.MaxBy(cell => cell.Strength)!.Cell.Settings;
        string cause = trend switch
        {
            { WithTime: < 0, WithPower: < 0 } => "energy",
            { WithTime: < 0 } => "time",
            _ => "power",
        };
        return new(Codes.WeakensAllOver, ("with", cause), ("strongest", strongest.ToFigure()),
            ("speed", Speed(strongest.SpeedMmPerMin)), ("faster", Speed(TwoFigures(FurtherDose * strongest.SpeedMmPerMin))),
            ("power", Power(strongest.PowerPercent)), ("weaker", Power(Math.Max(1, Math.Round(strongest.PowerPercent / FurtherDose)))));
    }

    /// <summary>An earlier card that differs by more than cards burned alike do.</summary>
    public static Advice CardsDisagree(Plan earlier, CardAgreement agreement)
    {
        double dose = agreement.DoseFactor.Value - 1, mark = agreement.MarkFactor.Value - 1;
        string how = Math.Abs(dose) / CardSpread.OfDose > Math.Abs(mark) / CardSpread.OfMark
            ? dose < 0 ? "less-energy" : "more-energy"
            : mark < 0 ? "weaker" : "stronger";
        return new(Codes.CardsDisagree, ("card", earlier.Number), ("how", how));
    }

    public static Advice TooFewCells(EngravedCard card)
    {
        int cells = card.Marked.Count, lost = card.Burned.Count - cells;
        return lost >= cells
            ? new(Codes.TooFewCells, ("cells", cells), ("lost", lost))
            : new(Codes.TooFewCells, ("cells", cells));
    }

    public static Advice NotLevelledOff(PlateauTest levelling, EngravedCard card, bool isKnown)
    {
        BurnedCell strongest = card.Burned.MaxBy(cell => cell.LnDose)!;
        return new(Codes.NotLevelledOff, ("strongest", strongest.Name), ("share", Reached(levelling)), ("known", Is(isKnown)),
            ("factor", In(Unit.Factor, levelling.DoseFactor)),
            ("speed", Speed(TwoFigures(strongest.Settings.SpeedMmPerMin / levelling.DoseFactor))),
            ("power", Power(strongest.Settings.PowerPercent)))
        { Goal = Goal.FastestFullMark };
    }

    public static Advice LevellingUncertain(PlateauTest levelling, double fullMarkShare, EngravedCard card) => new(Codes.LevellingUncertain,
        ("share", Reached(levelling)), ("full", Share(fullMarkShare)),
        ("speed", Speed(card.Burned.Min(cell => cell.Settings.SpeedMmPerMin))))
    { Goal = Goal.FastestFullMark };

    public static Advice Saturated(SaturationTest alike, EngravedCard card)
    {
        double fastest = card.Burned.Max(cell => cell.Settings.SpeedMmPerMin);
        double lowest = card.Burned.Min(cell => cell.Settings.PowerPercent);
        return new(Codes.Saturated, ("share", Share(alike.WeakestShare, alike.Low, alike.High)),
            ("speed", Speed(fastest)), ("power", Power(lowest)), ("faster", Speed(TwoFigures(2 * fastest))), ("weaker", Power(lowest / 2)));
    }

    public static Reason SaturatedReason(MarkEstimate chosen, SaturationTest alike) =>
        new(Codes.FullMarkAlike, ("share", Share(alike.WeakestShare, alike.Low, alike.High)), ("setting", chosen.Name));

    public static Advice NoLaw(bool wasTried) => new(Codes.NoLaw, ("tried", Is(wasTried)));

    public static Advice Weakens(double peakDose, bool isLaw) =>
        new(Codes.WeakensAtHighDose, ("peak", In(Unit.JPerMm2, peakDose)), ("law", Is(isLaw)));

    /// <summary>One cell may be an accident; it bars the way up all the same.</summary>
    public static Advice WeakensAtEnd(MarkedCell last, EngravedCard card) => new(Codes.WeakensAtHighDose,
        ("last", last.Cell.Name), ("stronger", card.Marked.MaxBy(cell => cell.Strength)!.Cell.Name));

    /// <summary>How the chance hangs on the speed.</summary>
    public static Reason Margin(SpeedMargin margin) => margin.Slower is { } slower
        ? new(Codes.FullMarkMargin, ("chance", Share(margin.Chosen)), ("slower", Share(slower)),
            ("slower-moves", Moved(margin.Chosen, slower)),
            ("faster", Share(margin.Faster)), ("faster-moves", Moved(margin.Chosen, margin.Faster)))
        : new(Codes.FullMarkMargin, ("chance", Share(margin.Chosen)), ("faster", Share(margin.Faster)),
            ("faster-moves", Moved(margin.Chosen, margin.Faster)));

    public static Reason Unburned(double gain, MarkEstimate chosen) =>
        new(Codes.UntestedFaster, ("gain", Share(gain)), ("setting", chosen.Name));

    public static Advice NoOrder(IReadOnlyList<MarkedCell> against, EngravedCard card) => against.Count == 0
        ? new(Codes.NoOrder)
        : new(Codes.NoOrder, ("cells", Named(against, card)));

    public static Advice NoFullMark(double confidence) =>
        new(Codes.NoSureFullMark, ("demanded", Share(confidence))) { Goal = Goal.FastestFullMark };

    public static Advice HaloLimit(double limitMm, MarkEstimate strongest) => (strongest.Marked.HaloMm is { } mm
        ? new Advice(Codes.HaloLimit, ("strongest", strongest.Name), ("halo", Mm(mm)), ("limit", Mm(limitMm)))
        : new Advice(Codes.HaloLimit, ("strongest", strongest.Name), ("limit", Mm(limitMm)))) with
    { Goal = Goal.Darkest };

    public static Advice NoneBelievable() => new(Codes.NoStrongestMark) { Goal = Goal.Darkest };

    public static Advice Outliers(IReadOnlyCollection<MarkedCell> cells) =>
        new(Codes.OutlierCells, ("process", "engrave"), ("cells", Named(cells)), ("count", cells.Count));

    public static Advice PassedOver(IReadOnlyCollection<MarkedCell> cells) =>
        new(Codes.PassedOverCells, ("cells", Named(cells)), ("count", cells.Count));

    /// <summary>"row 1 (all of it)" where whole lines are meant, else the cells one by one.</summary>
    private static Figure Named(IReadOnlyList<MarkedCell> cells, EngravedCard card)
    {
        HashSet<CellAddress> addresses = [.. cells.Select(cell => cell.Cell.Address)];
        foreach ((string line, Func<MarkedCell, int> of) in new (string, Func<MarkedCell, int>)[]
            { ("row", cell => cell.Cell.Address.Row), ("column", cell => cell.Cell.Address.Column) })
        {
            int[] whole = [.. card.Marked.GroupBy(of)
                .Where(group => group.Count() > 1 && group.All(cell => addresses.Contains(cell.Cell.Address)))
                .Select(group => group.Key)
                .Order()];
            if (whole.Length > 0 && cells.All(cell => whole.Contains(of(cell))))
                return new Phrase("name.whole-lines", ("line", line), ("numbers", List(whole.Select(index => index + 1))));
        }

        return Named(cells);
    }

    private static Figure Named(IReadOnlyCollection<MarkedCell> cells)
    {
        Listing named = List(cells.Take(MostNamed).Select(cell => (Figure)new Phrase("name.cell",
            ("row", cell.Cell.Address.Row + 1), ("column", cell.Cell.Address.Column + 1), ("setting", cell.Cell.Name))));
        return cells.Count <= MostNamed ? named : new Phrase("name.and-more", ("named", named), ("more", cells.Count - MostNamed));
    }

    /// <summary>Where the rounded chance stays the same, nothing moved.</summary>
    private static Word Moved(double from, double to) =>
        Voice.Tell(Share(from)) == Voice.Tell(Share(to)) ? new("same") : new(to > from ? "raises" : "lowers");

    private static Number ShareOf(MarkEstimate estimate) => Share(estimate.Share, estimate.ShareLow, estimate.ShareHigh);

    private static Number Reached(PlateauTest levelling) => Share(levelling.PlateauShare, levelling.Low, levelling.High);

    private static Number HighestPower(EngravedCard card) => Power(card.Burned.Max(cell => cell.Settings.PowerPercent));

    private static double HighestDose(EngravedCard card) => Math.Exp(card.Burned.Max(cell => cell.LnDose));
}
