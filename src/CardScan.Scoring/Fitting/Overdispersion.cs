namespace CardScan.Scoring.Fitting;

/// <summary>Chance from cell to cell beyond the stated standard errors: grain, uneven coat, lack of fit.</summary>
internal static class Overdispersion
{
    /// <summary>The standard deviation, in units of the scales, that brings the weighted sum of squares to its expectation.</summary>
    /// <param name="residuals">Residuals of a fit.</param>
    /// <param name="errors">Stated standard errors.</param>
    /// <param name="scales">What the extra deviation is counted in, greater than zero.</param>
    /// <param name="expected">Expected weighted sum of squares: the degrees of freedom.</param>
    /// <returns>Zero where the stated errors explain the residuals.</returns>
    /// <remarks>R. C. Paule, J. Mandel, J. Res. Natl. Bur. Stand. 87 (1982) 377–385.</remarks>
    public static double Estimate(ReadOnlySpan<double> residuals, ReadOnlySpan<double> errors, ReadOnlySpan<double> scales, double expected)
    {
        double high = 0;
        for (int i = 0; i < residuals.Length; i++)
            high += residuals[i] * residuals[i] / (scales[i] * scales[i]) / Math.Max(expected, 1);
        high = Math.Sqrt(high) + 1e-12;
        if (WeightedSum(residuals, errors, scales, 0) <= expected) return 0;

        double low = 0;
        for (int step = 0; step < 60; step++)
        {
            double middle = (low + high) / 2;
            if (WeightedSum(residuals, errors, scales, middle) > expected) low = middle;
            else high = middle;
        }

        return (low + high) / 2;
    }

    private static double WeightedSum(ReadOnlySpan<double> residuals, ReadOnlySpan<double> errors,
        ReadOnlySpan<double> scales, double extra)
    {
        double sum = 0;
        for (int i = 0; i < residuals.Length; i++)
        {
            double variance = errors[i] * errors[i] + extra * extra * scales[i] * scales[i];
            if (variance > 0) sum += residuals[i] * residuals[i] / variance;
            else if (residuals[i] != 0) return double.PositiveInfinity;
        }

        return sum;
    }
}
