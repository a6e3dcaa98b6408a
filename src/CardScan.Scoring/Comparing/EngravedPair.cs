using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Engraving;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Comparing;

/// <summary>What photos may have done to the marks of one card against another's.</summary>
/// <param name="AllAt">By which share they may have stretched all of them, standard error, for a relative dose (ln).</param>
/// <param name="StrongAgainstFaint">By which share they may have stretched the strongest against the faintest, standard error.</param>
internal sealed record StretchDoubt(Func<double, double> AllAt, double StrongAgainstFaint);

/// <summary>Two engraved cards on one curve.</summary>
/// <remarks>docs/method/comparing.md, "Common curve". Cells flagged as outliers by the scoring are left out.</remarks>
internal static class EngravedPair
{
    public const string ModelName = "saturating-exponential";

    /// <summary>Level of the test of equal shape.</summary>
    public const double ShapeLevel = 0.05;

    /// <summary>A difference of shape that matters: RMS over all cells, as a share of the strongest mark.</summary>
    private const double LargestShapeDifference = 0.02;

    /// <summary>Residuals beyond which the curve is not believed, as in the scoring of one card.</summary>
    private const double LargestResidualShare = 0.12;

    private const double FaintestMark = 0.05;

    private static readonly int[] AllParameters = [0, 1, 2, 3, 4];

    private const double MostBend = 3;
    private static readonly double[] LnRatioStarts = [0, -0.15, 0.15, -0.4, 0.4, -0.9, 0.9];

    /// <summary>Estimates the relative dose.</summary>
    /// <param name="first">The reference.</param>
    /// <param name="later">The other.</param>
    /// <param name="lnMargin">ln of the margin.</param>
    /// <param name="doubt">What photos may have done to the marks of the one against the other's; null where that is nothing.</param>
    public static PairEstimate Estimate(Reading first, Reading later, double lnMargin, StretchDoubt? doubt = null)
    {
        FittedPair fitted = Fit(first, later);
        if (fitted is not { Pair: { } pair, Best: { } best, Separate: { } separate }) return fitted.Known;
        DoseEstimate? dose = null, stretched = null;
        // Limits by profile take most of the time of a comparison.
        Parallel.Invoke(
            () => dose = DoseOf(best, separate, lnMargin, pair.HasSpeedExponent),
            () => stretched = doubt is null ? null : StretchedDose(fitted, lnMargin, doubt));
        return fitted.Known with
        {
            Dose = dose,
            // What a photo may have stretched is not told as the batch's own.
            Stretched = dose is null || stretched is null ? null : stretched with { StrengthRatio = dose.StrengthRatio },
            Curves = pair.Curves(best),
        };
    }

    /// <summary>The relative dose where marks may be stretched; null where they are not, or nothing bounds it.</summary>
    private static DoseEstimate? StretchedDose(FittedPair fitted, double lnMargin, StretchDoubt doubt) =>
        fitted.Pair!.Stretched(fitted.Cells, fitted.Best!, doubt) is { } stretched
            ? DoseOf(stretched, fitted.Separate!, lnMargin, fitted.Pair.HasSpeedExponent)
            : null;

    /// <summary>ln of the relative dose alone, without its limits, which take most of the time; null where none can be claimed.</summary>
    public static double? LnRatio(Reading first, Reading later) => Fit(first, later).Best?.LnRatio;

    /// <summary>Fits the common curve; <see cref="FittedPair.Best"/> is null where there is none.</summary>
    private static FittedPair Fit(Reading first, Reading later)
    {
        (EngravedCard a, EngravedCard b) = (CardOf(first), CardOf(later));
        if (FirstObstacle(first, later, a, b) is { } obstacle) return new(new() { Obstacle = obstacle });

        Pair pair = new(a, b);
        (WeightedCurve? curveA, WeightedCurve? curveB) = (pair.Alone(isOther: false), pair.Alone(isOther: true));
        if (curveA is null || curveB is null) return new(new() { Obstacle = ComparisonMessages.TooFewCells() });
        PairEstimate known = new() { Deviations = (Pair.ByCell(a, curveA), Pair.ByCell(b, curveB)) };
        if (curveA.ResidualShare > LargestResidualShare || curveB.ResidualShare > LargestResidualShare)
            return new(known with { Obstacle = ComparisonMessages.NoCurve() });

        List<JointCell> cells = pair.Cells(curveA, curveB);
        JointFit? separate =
            pair.Fit(cells, AllParameters.Where(pair.CanDiffer), hasRatio: false, [(curveA.Parameters, curveB.Parameters, 0)]);
        (double[], double[], double)[] starts = [.. LnRatioStarts.Select(ln => (curveA.Parameters, curveA.Parameters, ln))];
        JointFit? common = pair.Fit(cells, [], hasRatio: true, starts);
        if (separate is null || common is null) return new(known with { Obstacle = ComparisonMessages.NoCurve() });

        ShapeTest shape = Test(common, separate);
        JointFit best = common;
        if (!shape.AreAlike)
        {
            // Wood as dark as charcoal, or a lighter core: the same curve may end at another strength.
            starts = [.. LnRatioStarts.Select(ln => (curveA.Parameters, curveB.Parameters, ln))];
            // On a small card a strength of its own leaves nothing to test: the ratio would hide the shape.
            if (pair.Fit(cells, [SaturatingCurve.Strength], hasRatio: true, starts) is not { } own
                || own.DegreesOfFreedom <= separate.DegreesOfFreedom || Test(own, separate) is not { AreAlike: true } alike)
                return new(known with { Shape = shape, Curves = pair.Curves(separate) });
            (shape, best) = (alike, own);
        }

        return new(known with { Shape = shape }) { Pair = pair, Cells = cells, Best = best, Separate = separate };
    }

    /// <summary>F test of a fit with fewer parameters against one with more.</summary>
    public static ShapeTest Test(JointFit simple, JointFit separate)
    {
        int gained = simple.DegreesOfFreedom - separate.DegreesOfFreedom;
        int left = separate.DegreesOfFreedom;
        double f = Math.Max(0, simple.SumOfSquares - separate.SumOfSquares) / gained / UnitVariance(separate);
        double probability = 1 - FisherSnedecor.CDF(gained, left, f);
        double[] expected = separate.Fitted();
        double size = Math.Sqrt(simple.Fitted().Zip(expected, (x, y) => (x - y) * (x - y)).Average()) / expected.Max(Math.Abs);
        bool areAlike = probability >= ShapeLevel || size <= LargestShapeDifference;
        return new(f, probability, ShapeLevel, areAlike) { DegreesOfFreedom = gained, ResidualDegreesOfFreedom = left };
    }

    /// <summary>The relative dose by profile, with the chance that the separate curves leave.</summary>
    public static DoseEstimate? DoseOf(JointFit fit, JointFit separate, double lnMargin, bool hasSpeedExponent)
    {
        double s2 = UnitVariance(separate);
        int freedom = separate.DegreesOfFreedom;
        double t95 = StudentT.InvCDF(0, 1, freedom, 0.975), t90 = StudentT.InvCDF(0, 1, freedom, 1 - TwoOneSidedTests.Level);
        if (fit.Interval(t95 * t95 * s2) is not { } wide || fit.Interval(t90 * t90 * s2) is not { } narrow) return null;

        double probability = TwoOneSidedTests.Probability(Distance(-lnMargin), Distance(lnMargin), freedom);
        return new(fit.LnRatio, wide.Low, wide.High, narrow.Low, narrow.High, probability, ModelName)
        {
            SpeedExponent = hasSpeedExponent ? fit.Parameters(isOther: false)[SaturatingCurve.SpeedExponent] : null,
            SpeedExponentError = hasSpeedExponent ? fit.StandardError(SaturatingCurve.SpeedExponent) * Math.Sqrt(s2) : 0,
            StrengthRatio = fit.Parameters(isOther: true)[SaturatingCurve.Strength] is var other
                && fit.Parameters(isOther: false)[SaturatingCurve.Strength] is var own && other != own
                ? other / own : null,
        };

        // The signed root of the loss is the t of the profile.
        double Distance(double lnRatio) => Math.Sign(fit.LnRatio - lnRatio) * Math.Sqrt(Math.Max(0, fit.LossAt(lnRatio)) / s2);
    }

    /// <summary>Deviations hold the chance already; where they are found too small the fit says so, never the other way.</summary>
    private static double UnitVariance(JointFit separate) => Math.Max(1, separate.SumOfSquares / separate.DegreesOfFreedom);

    private static EngravedCard CardOf(Reading reading) => EngravedCard.Of(reading with
    {
        Cells = reading.Cells.Where(cell => !cell.Flags.Contains(CellFlag.Outlier)).ToValueList(),
    });

    private static Advice? FirstObstacle(Reading first, Reading later, EngravedCard a, EngravedCard b)
    {
        if (a.Marked.Count == 0 || b.Marked.Count == 0) return ComparisonMessages.NothingMeasured();
        if (a.Marked.Max(cell => cell.Strength) < FaintestMark || b.Marked.Max(cell => cell.Strength) < FaintestMark)
            return ComparisonMessages.NoMark();
        if (a.IsLighter != b.IsLighter) return ComparisonMessages.OtherDirection();
        if (a.FocusOffsetsMm.Count > 1 || b.FocusOffsetsMm.Count > 1 || a.FocusOffsetsMm[0] != b.FocusOffsetsMm[0])
            return ComparisonMessages.OtherFocus();
        return first.Advice.Concat(later.Advice)
            .Any(advice => advice.Code is Codes.WeakensAtHighDose or Codes.WeakensAllOver or Codes.NoOrder)
            ? ComparisonMessages.NoCurve()
            : null;
    }

    /// <summary>What is known of two cards before the limits of the relative dose are.</summary>
    private sealed record FittedPair(PairEstimate Known)
    {
        /// <summary>The cards on their axes; null where there is no common curve.</summary>
        public Pair? Pair { get; init; }

        /// <summary>The cells of both; empty likewise.</summary>
        public IReadOnlyList<JointCell> Cells { get; init; } = [];

        /// <summary>The common curve; null likewise.</summary>
        public JointFit? Best { get; init; }

        /// <summary>A curve for each card; null likewise.</summary>
        public JointFit? Separate { get; init; }
    }

    /// <summary>The two cards on the axes that they share.</summary>
    private sealed class Pair
    {
        private const int CurvePoints = 60;

        private readonly EngravedCard _first;
        private readonly EngravedCard _later;
        private readonly double _lnReference;
        private readonly double _lnMiddleSpeed;
        private readonly CurveBox _box;

        public Pair(EngravedCard first, EngravedCard later)
        {
            (_first, _later) = (first, later);
            MarkedCell[] all = [.. first.Marked, .. later.Marked];
            _lnReference = all.Max(cell => cell.Cell.LnDose);
            _lnMiddleSpeed = all.Average(cell => Math.Log(cell.Cell.Settings.SpeedMmPerMin));
            HasSpeedExponent = first.TellsSpeedFromEnergy || later.TellsSpeedFromEnergy;
            _box = SaturatingCurve.BoxFor(Math.Min(first.Marked.Count, later.Marked.Count), HasSpeedExponent);
        }

        /// <summary>True where some card tells speed and energy apart.</summary>
        public bool HasSpeedExponent { get; }

        /// <summary>Whether a parameter can be told for each card alone.</summary>
        public bool CanDiffer(int parameter) =>
            parameter != SaturatingCurve.SpeedExponent || (_first.TellsSpeedFromEnergy && _later.TellsSpeedFromEnergy);

        public WeightedCurve? Alone(bool isOther)
        {
            EngravedCard card = isOther ? _later : _first;
            CurveBox box = SaturatingCurve.BoxFor(Math.Min(_first.Marked.Count, _later.Marked.Count), card.TellsSpeedFromEnergy);
            return WeightedCurve.Fit(card.Marked, [.. card.Marked.Select(LnDose)], [.. card.Marked.Select(LnSpeed)], box);
        }

        public List<JointCell> Cells(WeightedCurve first, WeightedCurve later) =>
        [
            .. _first.Marked.Select((cell, i) => new JointCell(false, LnDose(cell), LnSpeed(cell), cell.Strength, first.Deviations[i])),
            .. _later.Marked.Select((cell, i) => new JointCell(true, LnDose(cell), LnSpeed(cell), cell.Strength, later.Deviations[i])),
        ];

        public JointFit? Fit(List<JointCell> cells, IEnumerable<int> own, bool hasRatio,
            IEnumerable<(double[] First, double[] Later, double LnRatio)> starts) =>
            JointFit.Fit(SaturatingCurve.At, cells, _box, own.Select(Free), hasRatio, starts);

        /// <summary>
        /// The common curve where photos may have stretched the later card's marks, which the strongest of them bound; null where they
        /// did not.
        /// </summary>
        public JointFit? Stretched(IReadOnlyList<JointCell> cells, JointFit common, StretchDoubt doubt)
        {
            (double all, double strong) = (doubt.AllAt(common.LnRatio), doubt.StrongAgainstFaint);
            if (!(all > 0)) return null;
            OwnParameter stretch = Free(SaturatingCurve.Strength) with { LnDeviation = all };
            OwnParameter bend = new(SaturatingCurve.Bend, 1 / MostBend, MostBend) { LnDeviation = strong };
            return JointFit.Fit(
                SaturatingCurve.At, cells, _box, strong > 0 ? [stretch, bend] : [stretch], hasRatio: true,
                [(common.Parameters(isOther: false), common.Parameters(isOther: true), common.LnRatio)]);
        }

        private OwnParameter Free(int parameter) => new(parameter, _box.Lower[parameter], _box.Upper[parameter]);

        public static Dictionary<CellAddress, double> ByCell(EngravedCard card, WeightedCurve curve) =>
            card.Marked.Select((cell, i) => (cell.Cell.Address, curve.Deviations[i])).ToDictionary();

        public ValueList<ComparedCurve> Curves(JointFit fit) => [CurveOf(_first, fit, isOther: false), CurveOf(_later, fit, isOther: true)];

        private ComparedCurve CurveOf(EngravedCard card, JointFit fit, bool isOther)
        {
            double[] p = fit.Parameters(isOther);
            double[] x = [.. card.Marked.Select(cell => LnDose(cell) + (1 - p[SaturatingCurve.SpeedExponent]) * LnSpeed(cell))];
            (double low, double high) = (x.Min(), x.Max());
            double shift = isOther ? fit.LnRatio : 0;
            bool isAreal = card.Burned.All(cell => cell.Settings.LineIntervalMm is not null);
            return new(
                "", AxisNames.Energy(isAreal, HasSpeedExponent ? Math.Exp(_lnMiddleSpeed) : null),
                card.Marked.Select((cell, i) => new ChartPoint(Rounded(Math.Exp(x[i] + _lnReference)), Rounded(cell.Strength)))
                    .ToValueList(),
                Enumerable.Range(0, CurvePoints).Select(i => low + (high - low) * i / (CurvePoints - 1))
                    .Select(ln => new ChartPoint(Rounded(Math.Exp(ln + _lnReference)), Rounded(SaturatingCurve.At(p, ln - shift, 0))))
                    .ToValueList());
        }

        private double LnDose(MarkedCell cell) => cell.Cell.LnDose - _lnReference;

        private double LnSpeed(MarkedCell cell) => Math.Log(cell.Cell.Settings.SpeedMmPerMin) - _lnMiddleSpeed;

        private static double Rounded(double value) => double.Round(value, 5);
    }
}
