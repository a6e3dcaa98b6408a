using System.Globalization;
using CardScan.Model;
using CardScan.Scoring.Engraving;

namespace CardScan.Scoring.Comparing;

/// <summary>The sentences a maker reads about a comparison.</summary>
internal static class ComparisonWords
{
    public static Advice NothingMeasured() => new("compare-nothing-measured",
        "one of the cards has no cell that can be used: read its photos again without glare and with the whole card in the frame");

    public static Advice NoMark() => new("compare-no-mark",
        "one of the cards shows no clear mark: burn it again with more dose");

    public static Advice TooFewCells() => new("compare-too-few-cells",
        "one of the cards has too few usable cells for a curve of its own: burn a card of at least 3 × 3 settings");

    public static Advice NoCurve() => new("compare-no-curve",
        "the marks of one of the cards do not follow a curve that levels off with dose, so no factor on dose can be told");

    public static Advice OtherDirection() => new("compare-other-direction",
        "one of the cards gets darker when burned and the other lighter: these are not two batches of one material, or a photo was exposed wrongly");

    public static Advice OtherFocus() => new("compare-other-focus",
        "the cards were not burned at one and the same focus offset: the factor on dose would be that of the focus as well; burn both at one focus");

    public static Advice AllSidesAlike() => new("compare-all-sides-alike",
        "all judged sides of one of the cards are open, or all are held: burn it again so that some come through and some do not");

    /// <summary>What the axis of the curves is.</summary>
    public static string Abscissa(EngravedCard card, bool hasSpeedExponent, double middleSpeedMmPerMin)
    {
        string unit = card.Burned.All(cell => cell.Settings.LineIntervalMm is not null) ? "J/mm²" : "J/mm";
        return hasSpeedExponent ? $"dose at {middleSpeedMmPerMin:0} mm/min, {unit}" : $"dose, {unit}";
    }

    public static string Equal(string first, string other, DoseEstimate dose, double margin, SettingChange? forWatts) => forWatts is null
        ? $"Nothing to change: equal within {Percent(margin)} ({Needs(first, other, dose)})."
        : $"Equal within {Percent(margin)} ({Needs(first, other, dose)}); for the other machine's watts {ChangeWords(first, other, dose, forWatts, null, default)}";

    public static string Different(string first, string other, DoseEstimate dose, SettingChange? change, Recommendation? setting, CardPasses passes) =>
        $"{Needs(first, other, dose)}: {ChangeWords(first, other, dose, change, setting, passes)}";

    public static string Unclear(string first, string other, DoseEstimate dose, double margin, Recommendation? setting)
    {
        string near = setting is null ? "" : $" round {Speed(setting.SpeedMmPerMin)} mm/min at {Number(setting.PowerPercent)} %";
        return $"Not enough to tell: {Needs(first, other, dose)}, which shows no difference but does not keep within {Percent(margin)} either:"
            + $" burn a card of each with about {MoreCells(dose, margin)} times as many cells, most of them{near}.";
    }

    public static string Unbounded(string first, string other) =>
        $"Not enough to tell: these cards do not bound the energy that {other} needs over that of {first}: burn cards that go from hardly a mark to one that has levelled off.";

    public static string OtherShape(string first, string other, ShapeTest shape) =>
        $"No single factor on dose turns {first} into {other}: their curves have different shapes (probability by chance {Probability(shape.Probability)}). Use {other}'s own recommendation; the differences cell by cell are below.";

    public static string Obstacle(Advice obstacle) => $"Not enough to tell: {obstacle.Message}.";

    /// <summary>"B needs 1.12× [1.07, 1.18] the energy of A".</summary>
    public static string Needs(string first, string other, DoseEstimate dose) =>
        $"{other} needs {Ratio(dose.LnRatio)}× [{Ratio(dose.Low)}, {Ratio(dose.High)}] the energy of {first}";

    public static Advice OwnStrength(string first, string other, double strengthRatio) => new("own-strength",
        $"the strongest mark of {other} has {Percent(strengthRatio)} of the contrast of {first}'s: the factor on dose is that for the same share of each one's own strongest mark");

    public static Advice UnlikePhotos(double lnLow, double lnHigh) => new("unlike-photos",
        $"this holds for photos taken alike: same phone, light and exposure. Phones bend tones; if these two did so differently, the factor may lie anywhere from {Ratio(lnLow)} to {Ratio(lnHigh)}: repeated photos of one card (--repeats) tell how much yours do");

    public static Advice OnePlan() => new("one-plan",
        "both readings are of one and the same plan: if they are two photos of one card, this difference is the photos' own; give them behind --repeats");

    /// <summary>What the plans say of the cause; the figures alone cannot tell it.</summary>
    public static Advice Cause(Plan first, Plan later)
    {
        if (!SameText(first.Machine.Name, later.Machine.Name) || first.Machine.RatedOpticalWatts != later.Machine.RatedOpticalWatts)
        {
            return new("other-machine",
                "the plans name different machines, so a difference may be the machine's as well as the material's; burn both on one machine to tell them apart");
        }

        if (!SameText(first.Material.Name, later.Material.Name) || first.Material.ThicknessMm != later.Material.ThicknessMm)
            return new("other-material", "the plans name different materials or thicknesses: this compares materials, not deliveries of one");
        if (first.Material.Batch is not { Length: > 0 } a || later.Material.Batch is not { Length: > 0 } b)
            return new("batch-unnamed", "a plan names no batch: whether the delivery or the machine changed cannot be told from these figures; name the batch in the next plan");
        return SameText(a, b)
            ? new("cause-machine", "same machine and same batch: a difference more likely comes from the machine (lens, focus, an ageing module) or from moisture than from the material; clean the lens, check the focus and burn a card again")
            : new("cause-batch", "same machine, other batch: a difference more likely comes from the delivery; a dirty lens, a shifted focus or an ageing module look the same in these figures, and only a card of the old batch burned today tells them apart");
    }

    public static string ChartFinding(IReadOnlyList<string> outside, int trend, int count, bool isOneBatch)
    {
        string rough = count < 10 ? $" Limits from {count} cards are rough." : "";
        string cause = isOneBatch
            ? "All plans name one batch and one machine, so look at the machine first: lens, focus, the module's age."
            : "Which of delivery, lens, focus or an ageing module it is, these figures cannot tell: a card of the first batch burned today would.";
        if (trend != 0) return $"The last six need {(trend > 0 ? "more and more" : "less and less")} energy, each {(trend > 0 ? "more" : "less")} than the one before: a drift. {(trend > 0 ? "A fading module or a lens getting dirty does that. " : "")}{cause}{rough}";
        if (outside.Count > 0) return $"{string.Join(", ", outside)} {(outside.Count == 1 ? "lies" : "lie")} outside the control limits: something changed there. {cause}{rough}";
        return $"All lie within the control limits, without a run of six in one direction: no card stands out from the scatter among them; how each stands to the first is told pair by pair.{rough}";
    }

    public static string Percent(double share) => $"{Number(Math.Round(100 * share, 1))} %";

    private static string ChangeWords(string first, string other, DoseEstimate dose, SettingChange? change, Recommendation? setting, CardPasses passes)
    {
        if (change is null)
        {
            if (setting is null) return $"{first} has no recommended setting to carry over.";
            string with = passes.Varied ? $" with {passes.Own} {(passes.Own == 1 ? "pass" : "passes")}" : "";
            string others = passes.Varied ? $", or go by {other}'s own cells with other passes" : "";
            string asked = $"for {first}'s {Speed(setting.SpeedMmPerMin)} mm/min at {Number(setting.PowerPercent)} %{with} that is";
            return dose.LnRatio > 0
                ? $"{asked} slower and stronger than these cards carried{with}; burn a card that goes slower{others}."
                : $"{asked} faster and weaker than these cards carried{with}; burn a card that goes faster{others}.";
        }

        bool isSpeed = change.Interval.Quantity == "speedMmPerMin";
        (double from, double to) = isSpeed ? (change.FromSpeedMmPerMin, change.ToSpeedMmPerMin) : (change.FromPowerPercent, change.ToPowerPercent);
        string name = isSpeed ? "speed" : "power", unit = isSpeed ? "mm/min" : "%";
        string kept = isSpeed ? $"{Number(change.FromPowerPercent)} % power" : $"{Speed(change.FromSpeedMmPerMin)} mm/min";
        return from == to
            ? $"that is less than a step of the {name}; keep {Number(from)} {unit} at {kept}."
            : $"{(to < from ? "lower" : "raise")} the {name} from {Number(from)} to {Number(to)} {unit} [{Number(change.Interval.Low)}, {Number(change.Interval.High)}] at {kept}.";
    }

    /// <summary>An interval shrinks with the root of the cells.</summary>
    private static string MoreCells(DoseEstimate dose, double margin)
    {
        double half = (dose.TestHigh - dose.TestLow) / 2;
        return Math.Clamp(Math.Ceiling(Math.Pow(half / Math.Log(1 + margin), 2) * 1.5), 2, 20).ToString("0", CultureInfo.InvariantCulture);
    }

    private static bool SameText(string a, string b) => string.Equals(a.Trim(), b.Trim(), StringComparison.OrdinalIgnoreCase);

    private static string Ratio(double ln) => Math.Exp(ln).ToString("0.00", CultureInfo.InvariantCulture);

    private static string Probability(double p) => p < 0.001 ? "below 0.1 %" : $"{Number(Math.Round(100 * p, 1))} %";

    private static string Speed(double mmPerMin) => Number(Math.Round(mmPerMin, 1));

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
