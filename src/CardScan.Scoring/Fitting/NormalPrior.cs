namespace CardScan.Scoring.Fitting;

/// <summary>What is known of a coefficient beforehand, normal about zero, written as data that a logistic fit takes.</summary>
/// <remarks>
/// Trials of which half succeed, at a predictor that the coefficient moves so little that their log-likelihood is a parabola:
/// n x² / 4 = 1 / σ². S. Greenland, M. A. Mansournia, Stat. Med. 34 (2015) 3133–3143 (named from memory).
/// </remarks>
internal static class NormalPrior
{
    /// <summary>So many that three deviations are a third of a logit, where the logarithm of a logistic is still a parabola.</summary>
    private const double Trials = 400;

    /// <summary>The data with that knowledge added.</summary>
    /// <param name="data">Observations.</param>
    /// <param name="priors">Columns, and the standard deviation of each one's coefficient.</param>
    public static LogisticData AddTo(LogisticData data, IReadOnlyCollection<(int Column, double Deviation)> priors)
    {
        if (priors.Count == 0) return data;
        int size = data.Coefficients;
        return new(
            [.. data.Design, .. priors.Select(prior => RowOf(prior, size))],
            [.. data.Successes, .. priors.Select(_ => Trials / 2)],
            [.. data.Trials, .. priors.Select(_ => Trials)]);
    }

    /// <summary>The data with what is known of a difference of two coefficients: the first less a multiple of the second.</summary>
    public static LogisticData AddDifference(LogisticData data, int column, int other, double multiple, double deviation)
    {
        double[] row = RowOf((column, deviation), data.Coefficients);
        row[other] = -multiple * row[column];
        return new([.. data.Design, row], [.. data.Successes, Trials / 2], [.. data.Trials, Trials]);
    }

    private static double[] RowOf((int Column, double Deviation) prior, int size)
    {
        double[] row = new double[size];
        row[prior.Column] = 2 / (Math.Sqrt(Trials) * prior.Deviation);
        return row;
    }
}
