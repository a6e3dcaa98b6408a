namespace CardScan.Calibration;

/// <summary>Laws of marks with drawn parameters, laid on a card's doses.</summary>
internal static class MarkDraws
{
    /// <summary>Where the full mark comes to lie: a share of the way from the card's least to its highest dose.</summary>
    private static double FullMarkDose(DoseSpan doses, Chance chance) => doses.At(chance.Between(0.45, 0.8));

    public static MarkLaw Saturating(DoseSpan doses, Chance chance) => SaturatingAt(FullMarkDose(doses, chance), chance);

    public static MarkLaw Logistic(DoseSpan doses, Chance chance)
    {
        double slope = chance.ByRatio(2.5, 6);
        return new LogisticLaw(0, chance.Between(0.6, 0.9), FullMarkDose(doses, chance) / Math.Pow(19, 1 / slope), slope);
    }

    public static MarkLaw RiseThenFall(DoseSpan doses, Chance chance)
    {
        double full = FullMarkDose(doses, chance);
        return new RiseThenFallLaw(SaturatingAt(full, chance), full * chance.Between(1.1, 1.6), chance.Between(0.2, 0.6));
    }

    public static MarkLaw Staircase(DoseSpan doses, Chance chance) =>
        MarkLaws.Of(MarkLaws.Staircase, MarkLaws.Steepnesses[(int)(3 * chance.Uniform())], FullMarkDose(doses, chance));

    /// <summary>Marked all over, and still growing at the top.</summary>
    public static MarkLaw LogRamp(DoseSpan doses, Chance chance) => LogRampFrom(doses.Least * chance.Between(0.3, 0.95), doses, chance);

    /// <summary>The weak cells bare, and still growing at the top.</summary>
    public static MarkLaw LogRampInside(DoseSpan doses, Chance chance) => LogRampFrom(doses.At(chance.Between(0.05, 0.45)), doses, chance);

    public static MarkLaw PowerGain(DoseSpan doses, Chance chance) =>
        new PowerGainLaw(doses.Most, chance.Between(0.5, 0.9), chance.Between(0.15, 0.5));

    /// <summary>The peak lies below the card: every dose more makes the mark weaker.</summary>
    public static MarkLaw BeyondPeak(DoseSpan doses, Chance chance) =>
        new PeakLaw(
            chance.Between(0.5, 0.85), doses.Least * chance.Between(0.6, 1), chance.Between(0.5, 0.8) * Math.Log(doses.Most / doses.Least));

    public static MarkLaw Coat(DoseSpan doses, Chance chance) =>
        new CoatLaw(chance.Between(0, 0.06), chance.Between(0.5, 0.85), doses.At(chance.Between(0.3, 0.7)), chance.ByRatio(0.01, 0.08));

    public static MarkLaw TwoStage(DoseSpan doses, Chance chance)
    {
        double first = doses.At(chance.Between(0.15, 0.4));
        CoatLaw scorch = new(0, chance.Between(0.4, 0.6), first, chance.ByRatio(0.1, 0.35));
        return new TwoStageLaw(scorch, doses.At(chance.Between(0.6, 0.9)), chance.ByRatio(0.05, 0.3), chance.Between(0.08, 0.3));
    }

    /// <summary>Only a few of the top doses char: one cell, up to one in ten.</summary>
    public static MarkLaw LateChar(DoseSpan doses, Chance chance)
    {
        int charred = 1 + (int)(chance.Uniform() * doses.Doses.Length / 10);
        return new TwoStageLaw(SaturatingBelow(doses.At(chance.Between(0.4, 0.6)), 0.6, chance), doses.PassedBy(charred),
            chance.ByRatio(0.01, 0.05), chance.Between(0.1, 0.3));
    }

    public static MarkLaw Peak(DoseSpan doses, Chance chance) =>
        new PeakLaw(
            chance.Between(0.55, 0.9), doses.At(chance.Between(0.4, 0.8)), chance.Between(0.2, 0.45) * Math.Log(doses.Most / doses.Least));

    public static MarkLaw BurnedOff(DoseSpan doses, Chance chance) =>
        new BurnedOffLaw(SaturatingAt(doses.At(chance.Between(0.4, 0.6)), chance), doses.At(chance.Between(0.75, 0.95)),
            chance.ByRatio(0.03, 0.2), chance.Between(0.3, 0.9));

    /// <summary>The strongest cell falls short of the plateau by far.</summary>
    public static MarkLaw TooWeak(DoseSpan doses, Chance chance) => SaturatingAt(doses.Most * chance.ByRatio(1.3, 4), chance);

    /// <summary>The weakest cell is full already.</summary>
    public static MarkLaw TooStrong(DoseSpan doses, Chance chance) => SaturatingAt(doses.Least * chance.ByRatio(0.3, 1), chance);

    private static LogRampLaw LogRampFrom(double threshold, DoseSpan doses, Chance chance) =>
        new(threshold, chance.Between(0.55, 0.9) / Math.Log(doses.Most / threshold));

    private static SaturatingLaw SaturatingAt(double fullMarkDose, Chance chance) => SaturatingBelow(fullMarkDose, 0.9, chance);

    /// <summary>95 % of the plateau, which is at most the one named, at a stated dose.</summary>
    private static SaturatingLaw SaturatingBelow(double fullMarkDose, double highestPlateau, Chance chance)
    {
        double threshold = chance.Between(0, 0.15) * fullMarkDose, shape = chance.ByRatio(0.9, 2.2);
        return new(chance.Between(highestPlateau - 0.3, highestPlateau), threshold,
            (fullMarkDose - threshold) / Math.Pow(-Math.Log(0.05), 1 / shape), shape);
    }
}
