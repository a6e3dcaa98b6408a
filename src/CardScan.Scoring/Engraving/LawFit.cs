using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Scoring.Engraving;

/// <summary>What a cell's chance is counted in.</summary>
internal enum ChanceKind
{
    /// <summary>Contrast: the ground's grain, or an error of the reading.</summary>
    Ground,

    /// <summary>A share of the mark: uneven burning.</summary>
    Mark,
}

/// <summary>The saturating law fitted to a card.</summary>
internal sealed class LawFit
{
    private readonly LawBox _box;
    private readonly NonlinearFit _fit;

    public LawFit(EngravedCard card, LawBox box, NonlinearFit fit, double[] deviations, double extraDeviation)
    {
        (Card, Law, _box, _fit, Deviations, ExtraDeviation) = (card, new(card), box, fit, deviations, extraDeviation);
        Covariance = fit.Cofactors! * Math.Max(1, fit.UnitVariance);
        EffectiveDegreesOfFreedom = Effective();
        StudentQuantile = StudentT.InvCDF(0, 1, EffectiveDegreesOfFreedom, 0.975);
    }

    /// <summary>The card without its outliers.</summary>
    public EngravedCard Card { get; }

    /// <summary>The law on this card's cells.</summary>
    public DoseLaw Law { get; }

    /// <summary>Standard deviation of each used cell, stated error and extra variance together.</summary>
    public double[] Deviations { get; }

    /// <summary>Chance beyond the stated errors, in units of <see cref="Chance"/>.</summary>
    public double ExtraDeviation { get; }

    /// <summary>What that chance is counted in; the likelier of the two.</summary>
    public ChanceKind Chance { get; init; }

    /// <summary>Cells that do not fit.</summary>
    public IReadOnlyList<MarkedCell> Outliers { get; init; } = [];

    /// <summary>Fitted parameters, in the order of <see cref="DoseLaw"/>.</summary>
    public ReadOnlySpan<double> Parameters => _fit.Parameters;

    /// <summary>Covariance of the parameters.</summary>
    public Matrix<double> Covariance { get; }

    /// <summary>Used cells less estimated parameters.</summary>
    public int DegreesOfFreedom => _fit.DegreesOfFreedom;

    /// <summary>
    /// Degrees of freedom behind the intervals. Only cells whose chance is not hidden by their stated error say anything of
    /// the chance, so each counts by the part of its variance that chance makes; and the less chance makes of the variance
    /// even where it makes most, the less its own uncertainty matters (Satterthwaite's rule).
    /// </summary>
    public double EffectiveDegreesOfFreedom { get; }

    private double Effective()
    {
        if (ExtraDeviation == 0) return DegreesOfFreedom;
        double[] parts = new double[Card.Marked.Count];
        Law.Shares(Parameters, parts);
        for (int i = 0; i < parts.Length; i++)
        {
            double stated = Card.Marked[i].ErrorAt(Parameters[DoseLaw.Strongest] * parts[i]);
            parts[i] = 1 - Math.Min(1, stated * stated / (Deviations[i] * Deviations[i]));
        }

        double most = Math.Max(parts.Max(), 0.1);
        return Math.Clamp(parts.Average() * DegreesOfFreedom / (most * most), 2, DegreesOfFreedom);
    }

    /// <summary>Student's quantile for two-sided 95 %.</summary>
    public double StudentQuantile { get; }

    /// <summary>True where speed and energy both vary, so that β is estimated.</summary>
    public bool HasFreeSpeedExponent => !_box.IsFixed(DoseLaw.SpeedExponent);

    /// <summary>Residuals in mark strength.</summary>
    public double[] Residuals()
    {
        double[] residuals = new double[Card.Marked.Count];
        Law.Shares(Parameters, residuals);
        for (int i = 0; i < residuals.Length; i++)
            residuals[i] = Card.Marked[i].Strength - Parameters[DoseLaw.Strongest] * residuals[i];
        return residuals;
    }

    /// <summary>
    /// Probability of a curve this flat or flatter at its strong end, did the card reach some share of its plateau: a
    /// one-sided test by refitting with that share held.
    /// </summary>
    /// <returns>Small where the curve is flatter than that share allows, near 1 where it is steeper.</returns>
    public double ProbabilityIfReaching(double plateauShare)
    {
        double steepness = Math.Log(-Math.Log(1 - plateauShare));
        double distance = Math.Sqrt(LossAt(DoseLaw.LnSteepness, steepness));
        return StudentT.CDF(0, 1, EffectiveDegreesOfFreedom, Parameters[DoseLaw.LnSteepness] > steepness ? -distance : distance);
    }

    /// <summary>Probability of a speed exponent this far from 1, were only energy to count; null where it is not estimated.</summary>
    public double? ReciprocityProbability()
    {
        if (!HasFreeSpeedExponent) return null;
        return 2 * StudentT.CDF(0, 1, EffectiveDegreesOfFreedom, -Math.Sqrt(LossAt(DoseLaw.SpeedExponent, 1)));
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

    /// <summary>The same fit with the cells named that it leaves out.</summary>
    public LawFit WithOutliers(IReadOnlyList<MarkedCell> outliers) =>
        new(Card, _box, _fit, Deviations, ExtraDeviation) { Chance = Chance, Outliers = outliers };

    /// <summary>Fitted strength of a burned cell at some parameters.</summary>
    public double StrengthAt(ReadOnlySpan<double> p, int burned) =>
        p[DoseLaw.Strongest] * DoseLaw.ShareAt(p, Math.Exp(Law.LnEffectiveDose(p, burned) - Law.LnHighestDose(p)));

    /// <summary>What the fit loses, in units of its variance, when one parameter is held and the others are fitted again.</summary>
    private double LossAt(int parameter, double value)
    {
        LawBox held = _box.Holding(parameter, value);
        NonlinearFit fit = NonlinearFit.Minimise(
            Law.Residuals(Card, Deviations), Card.Marked.Count, Parameters.ToArray(), held.Lower, held.Upper);
        return Math.Max(0, fit.SumOfSquares - _fit.SumOfSquares) / Math.Max(1, _fit.UnitVariance);
    }
}
