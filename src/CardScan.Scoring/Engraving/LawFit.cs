using CardScan.Model;
using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Scoring.Engraving;

/// <summary>The saturating law fitted to a card, robust against a few spoiled cells.</summary>
/// <remarks>
/// Three steps (docs/method/engrave-scoring.md, "Analysis"): a robust fit (Tukey's biweight) that a spoiled cell cannot
/// bend; an ordinary weighted fit without the cells that stand out, with the extra variance that the residuals demand;
/// a test of each of those cells against this fit, so that only proven outliers stay out.
/// </remarks>
internal sealed class LawFit
{
    /// <summary>Share of the plateau from which on a curve counts as levelled off.</summary>
    public const double LevelledShare = 0.85;

    private const double TukeyConstant = 4.685;   // 95 % efficiency under normal chance
    private const double OutlierLevel = 0.01;     // for the card as a whole
    private const double SuspectDeviations = 4;
    private const double SmallestDeviation = 1e-5;

    private static readonly double[] SteepnessStarts = [0.7, 2.5, 8, 25];
    private static readonly double[] ShapeStarts = [1, 2];

    private readonly double[] _lower;
    private readonly double[] _upper;
    private readonly NonlinearFit _fit;

    private LawFit(EngravedCard card, DoseLaw law, double[] lower, double[] upper, NonlinearFit fit, double[] deviations) =>
        (Card, Law, _lower, _upper, _fit, Deviations) = (card, law, lower, upper, fit, deviations);

    /// <summary>The card without its outliers.</summary>
    public EngravedCard Card { get; }

    /// <summary>The law on this card's cells.</summary>
    public DoseLaw Law { get; }

    /// <summary>Standard deviation of each used cell, stated error and extra variance together.</summary>
    public double[] Deviations { get; }

    /// <summary>Extra deviation, in units of the cells' chance scale.</summary>
    public double ExtraDeviation { get; private init; }

    /// <summary>Cells that do not fit.</summary>
    public ValueList<MarkedCell> Outliers { get; private init; } = [];

    /// <summary>Fitted parameters, in the order of <see cref="DoseLaw"/>.</summary>
    public ReadOnlySpan<double> Parameters => _fit.Parameters;

    /// <summary>Covariance of the parameters.</summary>
    public Matrix<double> Covariance => _fit.Cofactors! * Math.Max(1, _fit.UnitVariance);

    /// <summary>Used cells less free parameters.</summary>
    public int DegreesOfFreedom => _fit.DegreesOfFreedom;

    /// <summary>Student's quantile for two-sided 95 %.</summary>
    public double StudentQuantile => StudentT.InvCDF(0, 1, DegreesOfFreedom, 0.975);

    /// <summary>True where speed and energy both vary, so that β is estimated.</summary>
    public bool HasFreeSpeedExponent => _lower[DoseLaw.SpeedExponent] < _upper[DoseLaw.SpeedExponent];

    /// <summary>Residuals in mark strength.</summary>
    public double[] Residuals()
    {
        double[] residuals = new double[Card.Marked.Count];
        Law.Shares(Parameters, residuals);
        for (int i = 0; i < residuals.Length; i++)
            residuals[i] = Card.Marked[i].Strength - Parameters[DoseLaw.Strongest] * residuals[i];
        return residuals;
    }

    /// <summary>Fits the law; null where the cells do not determine it.</summary>
    public static LawFit? Fit(EngravedCard card)
    {
        (double[] lower, double[] upper) = Bounds(card);
        int free = Enumerable.Range(0, lower.Length).Count(j => lower[j] < upper[j]);
        if (card.Marked.Count < free + 2) return null;

        double[]? start = RobustFit(card, lower, upper);
        if (start is null) return null;
        HashSet<CellAddress> suspects = [.. Suspects(card, start).Select(cell => cell.Cell.Address)];
        LawFit? fit = Weighted(card.Without(suspects), start, lower, upper);
        if (fit is null || suspects.Count == 0) return fit;

        List<MarkedCell> outliers = fit.Proven([.. card.Marked.Where(cell => suspects.Contains(cell.Cell.Address))], card.Marked.Count);
        LawFit? final = outliers.Count == suspects.Count ? fit
            : Weighted(card.Without(outliers.Select(cell => cell.Cell.Address).ToHashSet()), start, lower, upper);
        return final is null ? null : new(final.Card, final.Law, lower, upper, final._fit, final.Deviations)
        {
            ExtraDeviation = final.ExtraDeviation,
            Outliers = outliers.ToValueList(),
        };
    }

    /// <summary>
    /// Probability of a curve this steep or less, were it levelled off: a one-sided test of the steepness against the
    /// one that reaches <see cref="LevelledShare"/> of the plateau, by refitting with that steepness.
    /// </summary>
    public double LevelledProbability()
    {
        double atLeast = Math.Log(-Math.Log(1 - LevelledShare));
        if (Parameters[DoseLaw.LnSteepness] >= atLeast) return 1;
        double[] lower = [.. _lower];
        double[] upper = [.. _upper];
        lower[DoseLaw.LnSteepness] = upper[DoseLaw.LnSteepness] = atLeast;
        NonlinearFit levelled = NonlinearFit.Minimise(ResidualsOf(Card, Law, Deviations), Card.Marked.Count, Parameters.ToArray(), lower, upper);
        double statistic = Math.Max(0, levelled.SumOfSquares - _fit.SumOfSquares) / Math.Max(1, _fit.UnitVariance);
        return StudentT.CDF(0, 1, DegreesOfFreedom, -Math.Sqrt(statistic));
    }

    /// <summary>Probability of a speed exponent this far from 1, were only energy to count; null where it is not estimated.</summary>
    public double? ReciprocityProbability()
    {
        if (!HasFreeSpeedExponent) return null;
        double[] lower = [.. _lower];
        double[] upper = [.. _upper];
        lower[DoseLaw.SpeedExponent] = upper[DoseLaw.SpeedExponent] = 1;
        NonlinearFit energyOnly = NonlinearFit.Minimise(ResidualsOf(Card, Law, Deviations), Card.Marked.Count, Parameters.ToArray(), lower, upper);
        double statistic = Math.Max(0, energyOnly.SumOfSquares - _fit.SumOfSquares) / Math.Max(1, _fit.UnitVariance);
        return 2 * StudentT.CDF(0, 1, DegreesOfFreedom, -Math.Sqrt(statistic));
    }

    /// <summary>Derivatives of some function of the parameters, by central differences; zero for parameters that are known.</summary>
    public double[] Gradient(Func<double[], double> function)
    {
        double[] p = Parameters.ToArray();
        double[] gradient = new double[p.Length];
        for (int j = 0; j < p.Length; j++)
        {
            if (_fit.Cofactors![j, j] == 0) continue;
            double centre = p[j];
            double step = Math.Min(1e-4 * Math.Max(Math.Abs(centre), 0.01), 0.1 * Math.Sqrt(_fit.Cofactors[j, j]));
            p[j] = centre + step;
            double above = function(p);
            p[j] = centre - step;
            double below = function(p);
            p[j] = centre;
            gradient[j] = (above - below) / (2 * step);
        }

        return gradient;
    }

    /// <summary>Standard error of a function of the parameters, by the delta method.</summary>
    public double StandardError(Func<double[], double> function)
    {
        Vector<double> gradient = Vector<double>.Build.Dense(Gradient(function));
        return Math.Sqrt(Math.Max(0, gradient * Covariance * gradient));
    }

    private static (double[] Lower, double[] Upper) Bounds(EngravedCard card)
    {
        int size = new DoseLaw(card).ParameterCount;
        double[] lower = new double[size];
        double[] upper = new double[size];
        Array.Fill(lower, -5);
        Array.Fill(upper, 5);
        (lower[DoseLaw.Strongest], upper[DoseLaw.Strongest]) = (0, 1e6);
        (lower[DoseLaw.LnSteepness], upper[DoseLaw.LnSteepness]) = (Math.Log(0.02), Math.Log(500));
        (lower[DoseLaw.LnShape], upper[DoseLaw.LnShape]) = (Math.Log(0.25), Math.Log(6));
        (lower[DoseLaw.Threshold], upper[DoseLaw.Threshold]) = (0, 0.9);
        (lower[DoseLaw.SpeedExponent], upper[DoseLaw.SpeedExponent]) = (0.1, 3);

        // A small card carries fewer parameters: first the threshold, then the shape becomes the plain exponential's.
        if (!VariesApart(card)) (lower[DoseLaw.SpeedExponent], upper[DoseLaw.SpeedExponent]) = (1, 1);
        if (card.Marked.Count < 9) upper[DoseLaw.Threshold] = 0;
        if (card.Marked.Count < 7) lower[DoseLaw.LnShape] = upper[DoseLaw.LnShape] = 0;
        return (lower, upper);
    }

    /// <summary>Whether speed varies at equal energy, or energy at equal speed, so that the two can be told apart.</summary>
    private static bool VariesApart(EngravedCard card)
    {
        if (card.Marked.Count < 3) return false;
        double[] speed = [.. card.Marked.Select(cell => cell.Cell.LnSpeed)];
        double[] dose = [.. card.Marked.Select(cell => cell.Cell.LnDose)];
        double speedSpread = MathNet.Numerics.Statistics.Statistics.PopulationStandardDeviation(speed);
        double doseSpread = MathNet.Numerics.Statistics.Statistics.PopulationStandardDeviation(dose);
        return speedSpread > 0.01 && doseSpread > 0.01
            && Math.Abs(MathNet.Numerics.Statistics.Correlation.Pearson(speed, dose)) < 0.9999;
    }

    private static ResidualFunction ResidualsOf(EngravedCard card, DoseLaw law, double[] deviations)
    {
        double[] strengths = [.. card.Marked.Select(cell => cell.Strength)];
        return (p, residuals) =>
        {
            law.Shares(p, residuals);
            for (int i = 0; i < residuals.Length; i++)
                residuals[i] = (strengths[i] - p[DoseLaw.Strongest] * residuals[i]) / deviations[i];
        };
    }

    private static double[]? RobustFit(EngravedCard card, double[] lower, double[] upper)
    {
        DoseLaw law = new(card);
        int count = card.Marked.Count;
        double[] scales = [.. card.Marked.Select(cell => cell.ChanceScale)];
        ResidualFunction plain = ResidualsOf(card, law, scales);
        double[] residuals = new double[count];
        double[][] starts = [.. Starts(card, law, lower, upper).OrderBy(Scale).Take(2)];

        double[]? best = null;
        double bestScale = double.PositiveInfinity;
        foreach (double[] start in starts)
        {
            double[] p = start;
            for (int round = 0; round < 8; round++)
            {
                double scale = Scale(p);
                double[] deviations = [.. residuals.Select((r, i) => scales[i] / Math.Max(TukeyRootWeight(r / scale), 1e-4))];
                NonlinearFit fit = NonlinearFit.Minimise(ResidualsOf(card, law, deviations), count, p, lower, upper);
                if (fit.Stop == FitStop.NotFinite) break;
                p = fit.Parameters.ToArray();
            }

            double reached = Scale(p);
            if (reached < bestScale) (best, bestScale) = (p, reached);
        }

        return best;

        double Scale(double[] p)
        {
            plain(p, residuals);
            double[] sizes = [.. residuals.Select(Math.Abs).Order()];
            int free = lower.Zip(upper).Count(pair => pair.First < pair.Second);
            // The median of the residuals that are not fitted away: the p smallest ones say nothing about the scale.
            double median = sizes[Math.Min(sizes.Length - 1, (sizes.Length + free) / 2)];
            return Math.Max(1.4826 * median, SmallestDeviation);
        }
    }

    private static double TukeyRootWeight(double deviations)
    {
        double t = deviations / TukeyConstant;
        return Math.Abs(t) < 1 ? 1 - t * t : 0;
    }

    /// <summary>Starting points over the range of shapes, the strongest mark of each by linear least squares.</summary>
    private static IEnumerable<double[]> Starts(EngravedCard card, DoseLaw law, double[] lower, double[] upper)
    {
        double[] shares = new double[card.Marked.Count];
        foreach (double steepness in SteepnessStarts)
        {
            foreach (double shape in ShapeStarts)
            {
                double[] p = new double[law.ParameterCount];
                p[DoseLaw.LnSteepness] = Math.Log(steepness);
                p[DoseLaw.LnShape] = Math.Log(shape);
                p[DoseLaw.SpeedExponent] = 1;
                p[DoseLaw.Threshold] = 0.005;
                for (int j = 0; j < p.Length; j++) p[j] = Math.Clamp(p[j], lower[j], upper[j]);
                law.Shares(p, shares);
                double cross = 0, square = 1e-12;
                for (int i = 0; i < shares.Length; i++)
                {
                    cross += shares[i] * card.Marked[i].Strength;
                    square += shares[i] * shares[i];
                }

                p[DoseLaw.Strongest] = Math.Max(cross / square, 1e-6);
                yield return p;
            }
        }
    }

    /// <summary>The cells that stand out from the robust fit; none where they are too many to be accidents.</summary>
    private static List<MarkedCell> Suspects(EngravedCard card, double[] p)
    {
        double[] shares = new double[card.Marked.Count];
        new DoseLaw(card).Shares(p, shares);
        double[] residuals = [.. card.Marked.Select((cell, i) => (cell.Strength - p[DoseLaw.Strongest] * shares[i]) / cell.ChanceScale)];
        double[] sizes = [.. residuals.Select(Math.Abs).Order()];
        double scale = Math.Max(1.4826 * sizes[sizes.Length / 2], SmallestDeviation);
        List<MarkedCell> suspects = [.. card.Marked.Where((cell, i) =>
            Math.Abs(residuals[i]) > SuspectDeviations * Math.Max(scale, cell.StandardError / cell.ChanceScale))];
        return suspects.Count <= Math.Max(1, card.Marked.Count / 10) ? suspects : [];
    }

    /// <summary>Weighted least squares with the extra variance that the residuals demand.</summary>
    private static LawFit? Weighted(EngravedCard card, double[] start, double[] lower, double[] upper)
    {
        DoseLaw law = new(card);
        double[] errors = [.. card.Marked.Select(cell => cell.StandardError)];
        double[] scales = [.. card.Marked.Select(cell => cell.ChanceScale)];
        double[] p = start;
        double extra = InitialExtra();
        double[] deviations = DeviationsWith(extra);
        NonlinearFit fit = NonlinearFit.Minimise(ResidualsOf(card, law, deviations), card.Marked.Count, p, lower, upper);
        for (int round = 0; round < 4; round++)
        {
            if (fit.Cofactors is null || fit.DegreesOfFreedom < 1) return null;
            p = fit.Parameters.ToArray();
            double[] residuals = new double[errors.Length];
            ResidualsOf(card, law, [.. errors.Select(_ => 1.0)])(p, residuals);
            double next = ExtraVariance.Estimate(residuals, errors, scales, fit.DegreesOfFreedom);
            bool isSettled = Math.Abs(next - extra) <= 1e-3 * extra;
            extra = next;
            deviations = DeviationsWith(extra);
            if (isSettled) break;
            fit = NonlinearFit.Minimise(ResidualsOf(card, law, deviations), card.Marked.Count, p, lower, upper);
        }

        return fit.Cofactors is null || fit.DegreesOfFreedom < 1 ? null
            : new(card, law, lower, upper, fit, deviations) { ExtraDeviation = extra };

        double InitialExtra()
        {
            double[] residuals = new double[errors.Length];
            ResidualsOf(card, law, scales)(p, residuals);
            return Math.Sqrt(residuals.Sum(r => r * r) / residuals.Length);
        }

        double[] DeviationsWith(double extraDeviation) =>
            [.. errors.Select((error, i) => Math.Max(Math.Sqrt(error * error + Math.Pow(extraDeviation * scales[i], 2)), SmallestDeviation))];
    }

    /// <summary>Those of the suspects that the fit without them refutes at 1 % for the card (Bonferroni).</summary>
    private List<MarkedCell> Proven(List<MarkedCell> suspects, int cells)
    {
        double limit = StudentT.InvCDF(0, 1, DegreesOfFreedom, 1 - OutlierLevel / 2 / cells);
        return [.. suspects.Where(suspect =>
        {
            int index = Card.Burned.ToList().FindIndex(cell => cell.Address == suspect.Cell.Address);
            double expected = StrengthAt(Parameters, index);
            double fitError = StandardError(p => StrengthAt(p, index));
            double own = Math.Pow(suspect.StandardError, 2) + Math.Pow(ExtraDeviation * suspect.ChanceScale, 2);
            return Math.Abs(suspect.Strength - expected) > limit * Math.Sqrt(own + fitError * fitError + SmallestDeviation * SmallestDeviation);
        })];
    }

    private double StrengthAt(ReadOnlySpan<double> p, int burned) =>
        p[DoseLaw.Strongest] * DoseLaw.ShareAt(p, Math.Exp(Law.LnEffectiveDose(p, burned) - Law.LnHighestDose(p)));
}
