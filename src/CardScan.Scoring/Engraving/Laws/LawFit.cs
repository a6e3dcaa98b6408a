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

/// <summary>One law fitted to a card.</summary>
internal sealed class LawFit
{
    /// <summary>Refitting for a test need not be exact to rounding.</summary>
    private const double TestPrecision = 1e-9;

    private readonly NonlinearFit _fit;
    private readonly double _unitVariance;

    public LawFit(EngravedCard card, DoseLaw law, LawBox box, NonlinearFit fit, double degreesOfFreedom, double[] deviations,
        double extraDeviation)
    {
        (Card, Law, Box, _fit, DegreesOfFreedom, Deviations, ExtraDeviation) =
            (card, law, box, fit, degreesOfFreedom, deviations, extraDeviation);
        Peak = law.Curve.Peak(law.ShapeOf(fit.Parameters));
        Strongest = law.Strongest(fit.Parameters);
        ScaledResiduals = [.. Residuals().Zip(deviations, (r, deviation) => r / deviation)];
        MiddleDeviation = deviations.Order().ElementAt(deviations.Length / 2);
        StatedPart = Stated();
        _unitVariance = Math.Max(1, ScaledResiduals.Sum(r => r * r) / degreesOfFreedom);
        Information = -2 * LogLikelihood + 2 * (box.FreeCount - law.Curve.KnownCount() + 1) + law.CostOfKnown(Parameters, fit.Cofactors!);
        Covariance = fit.Cofactors! * _unitVariance;
        EffectiveDegreesOfFreedom = Effective();
        StudentQuantile = StudentT.InvCDF(0, 1, EffectiveDegreesOfFreedom, 0.975);
    }

    /// <summary>The card without its outliers.</summary>
    public EngravedCard Card { get; }

    /// <summary>The law on this card's cells.</summary>
    public DoseLaw Law { get; }

    /// <summary>The range of its parameters.</summary>
    public LawBox Box { get; }

    /// <summary>Standard deviation of each used cell, stated error and extra variance together.</summary>
    public double[] Deviations { get; }

    /// <summary>The middle one of them.</summary>
    public double MiddleDeviation { get; }

    /// <summary>Chance beyond the stated errors, in units of <see cref="Chance"/>.</summary>
    public double ExtraDeviation { get; }

    /// <summary>What that chance is counted in; the likelier of the two.</summary>
    public ChanceKind Chance { get; init; }

    /// <summary>Fitted parameters, in the order of <see cref="DoseLaw"/>: amplitude, speed exponent, focus, shape.</summary>
    public ReadOnlySpan<double> Parameters => _fit.Parameters;

    /// <summary>Covariance of the parameters.</summary>
    public Matrix<double> Covariance { get; }

    /// <summary>Used cells less the parameters that they determine.</summary>
    public double DegreesOfFreedom { get; }

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
        Law.Strengths(Parameters, parts);
        for (int i = 0; i < parts.Length; i++)
        {
            double stated = Card.Marked[i].ErrorAt(parts[i]);
            parts[i] = 1 - Math.Min(1, stated * stated / (Deviations[i] * Deviations[i]));
        }

        double most = Math.Max(parts.Max(), 0.1);
        return Math.Clamp(parts.Average() * DegreesOfFreedom / (most * most), 2, DegreesOfFreedom);
    }

    /// <summary>Student's quantile for two-sided 95 %.</summary>
    public double StudentQuantile { get; }

    /// <summary>True where speed and energy both vary, so that β is estimated.</summary>
    public bool HasFreeSpeedExponent => !Box.IsFixed(DoseLaw.SpeedExponent);

    /// <summary>Residuals of the used cells over their deviations.</summary>
    public double[] ScaledResiduals { get; }

    /// <summary>Part of a cell's variance that its stated error makes, on average: the chance is not smaller.</summary>
    public double StatedPart { get; }

    private double Stated()
    {
        double[] expected = new double[Card.Marked.Count];
        Law.Strengths(Parameters, expected);
        return expected.Select((strength, i) => Math.Min(1, Math.Pow(Card.Marked[i].ErrorAt(strength) / Deviations[i], 2))).Average();
    }

    /// <summary>Residuals in mark strength.</summary>
    public double[] Residuals()
    {
        double[] residuals = new double[Card.Marked.Count];
        Law.Strengths(Parameters, residuals);
        for (int i = 0; i < residuals.Length; i++) residuals[i] = Card.Marked[i].Strength - residuals[i];
        return residuals;
    }

    /// <summary>Parameters brought back into the range that the fit allows.</summary>
    public double[] Inside(double[] p) => Box.Clamp(p);

    /// <summary>Strongest mark inside the card.</summary>
    public double Strongest { get; }

    /// <summary>Part of the highest dose at which the strongest mark is reached.</summary>
    public double Peak { get; }

    /// <summary>Dose of the strongest mark, J/mm² at the middle speed.</summary>
    public double PeakDose => Peak * Math.Exp(Law.LnHighestDose(Parameters));

    /// <summary>True where the mark weakens towards the highest dose.</summary>
    public bool IsPeaked => Peak < 1 - 1e-6;

    /// <summary>Natural logarithm of the likelihood, up to a constant that all laws of a card share.</summary>
    public double LogLikelihood =>
        -ScaledResiduals.Zip(Deviations, (r, deviation) => Math.Log(deviation) + r * r / 2).Sum();

    /// <summary>
    /// Information criterion: what the law does not explain, twice the parameters of which nothing was known beforehand
    /// (Akaike), and for the others what their evidence costs: how far they lie from what is usual, and how much narrower the
    /// cells make them.
    /// </summary>
    public double Information { get; }

    /// <summary>
    /// Probability of a curve this flat or flatter at its strong end, did the card reach some share of its plateau: a
    /// one-sided test by refitting with that share held. Null for a curve that heads for no plateau.
    /// </summary>
    /// <returns>Small where the curve is flatter than that share allows, near 1 where it is steeper.</returns>
    public double? ProbabilityIfReaching(double plateauShare)
    {
        if (Law.Curve.FirstShapeReaching(plateauShare) is not { } shape) return null;
        double distance = Math.Sqrt(LossAt(Law.FirstShape, shape));
        return StudentT.CDF(0, 1, EffectiveDegreesOfFreedom, Parameters[Law.FirstShape] > shape ? -distance : distance);
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
        double[] p = Parameters.ToArray(), gradient = new double[p.Length];
        foreach ((int j, double step) in Steps())
        {
            double centre = p[j];
            p[j] = centre + step;
            double above = function(p);
            p[j] = centre - step;
            double below = function(p);
            p[j] = centre;
            gradient[j] = (above - below) / (2 * step);
        }

        return gradient;
    }

    /// <summary>How far each estimated parameter is moved to either side for a derivative.</summary>
    private IEnumerable<(int Parameter, double Step)> Steps()
    {
        for (int j = 0; j < Parameters.Length; j++)
        {
            double error = Math.Sqrt(_fit.Cofactors![j, j]);
            if (error > 0) yield return (j, Math.Min(1e-4 * Math.Max(Math.Abs(Parameters[j]), 0.01), 0.1 * error));
        }
    }

    /// <summary>Derivatives of the fitted strengths over their deviations, one column for each estimated parameter.</summary>
    public List<(int Parameter, double[] Column)> ScaledDerivatives()
    {
        double[] p = Parameters.ToArray();
        List<(int, double[])> columns = [];
        for (int j = 0; j < p.Length; j++)
        {
            if (Covariance[j, j] == 0) continue;
            double centre = p[j];
            double step = 1e-5 * Math.Max(Math.Abs(centre), 0.1);
            p[j] = centre + step;
            double[] above = ScaledStrengths(p);
            p[j] = centre - step;
            double[] below = ScaledStrengths(p);
            p[j] = centre;
            columns.Add((j, [.. above.Zip(below, (a, b) => (a - b) / (2 * step))]));
        }

        return columns;
    }

    private double[] ScaledStrengths(double[] p)
    {
        double[] values = new double[Card.Marked.Count];
        Law.Strengths(p, values);
        for (int i = 0; i < values.Length; i++) values[i] /= Deviations[i];
        return values;
    }

    /// <summary>Standard error of a function of the parameters, by the delta method.</summary>
    public double StandardError(Func<double[], double> function) => ErrorOf(Gradient(function));

    private double ErrorOf(double[] gradient)
    {
        double variance = 0;
        for (int j = 0; j < gradient.Length; j++)
            for (int k = 0; k < gradient.Length; k++) variance += gradient[j] * Covariance[j, k] * gradient[k];
        return Math.Sqrt(Math.Max(0, variance));
    }

    /// <summary>Fitted strength of a burned cell at some parameters.</summary>
    public double StrengthAt(ReadOnlySpan<double> p, int burned) =>
        p[DoseLaw.Amplitude] * Law.Curve.Value(Law.ShapeOf(p), Law.PartAt(p, burned));

    /// <summary>What the fit loses, in units of its variance, when one parameter is held and the others are fitted again.</summary>
    private double LossAt(int parameter, double value)
    {
        NonlinearFit fit = Refitted(TestPrecision, Box.Holding(parameter, value));
        return Math.Max(0, fit.SumOfSquares - _fit.SumOfSquares) / _unitVariance;
    }

    /// <summary>The same cells with the same deviations fitted from here.</summary>
    /// <param name="precision">As <see cref="NonlinearFit.Minimise"/> has it.</param>
    /// <param name="box">Another range of the parameters; null for its own.</param>
    public NonlinearFit Refitted(double precision, LawBox? box = null) => NonlinearFit.Minimise(
        Law.Residuals(Card, Deviations), Law.RowsFor(Card), Parameters.ToArray(), (box ?? Box).Lower, (box ?? Box).Upper, precision);
}
