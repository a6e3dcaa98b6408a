using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving;

/// <summary>Reads the fitted law at the cells.</summary>
internal static class LawEstimates
{
    private const double SmallestShortfall = 1e-9;

    /// <summary>One estimate a used cell, in their order.</summary>
    /// <remarks>
    /// Errors by the delta method on the logarithm of the shortfall, ln(1 − share): nearly linear in the parameters, and
    /// its interval never passes 1.
    /// </remarks>
    public static CellEstimate[] Of(LawFit fit, double fullMarkShare) =>
        [.. fit.Card.Marked.Select((cell, i) => Estimate(fit, cell, i, fullMarkShare))];

    private static CellEstimate Estimate(LawFit fit, MarkedCell cell, int index, double fullMarkShare)
    {
        double share = ShareOf(fit.Parameters);
        double strength = fit.Parameters[DoseLaw.Strongest] * share;
        double shortfall = 1 - share;
        if (shortfall < SmallestShortfall) return new(cell, strength, 1, 1, 1, 1);

        double error = fit.StandardError(p => Math.Log(Math.Max(1 - ShareOf(p), SmallestShortfall)));
        double quantile = fit.StudentQuantile;
        double probability = error > 0
            ? StudentT.CDF(0, 1, fit.EffectiveDegreesOfFreedom, (Math.Log(1 - fullMarkShare) - Math.Log(shortfall)) / error)
            : share >= fullMarkShare ? 1 : 0;
        return new(cell, strength, share,
            Math.Max(0, 1 - shortfall * Math.Exp(quantile * error)), 1 - shortfall * Math.Exp(-quantile * error), probability);

        double ShareOf(ReadOnlySpan<double> p) =>
            DoseLaw.ShareAt(p, Math.Exp(fit.Law.LnEffectiveDose(p, index) - fit.Law.LnHighestDose(p)));
    }
}
