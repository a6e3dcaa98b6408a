using MathNet.Numerics;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Cutting;

/// <summary>A rate of failures of which few were seen: beforehand either tiny or anything up to a few in ten.</summary>
/// <remarks>
/// A mixture of two beta distributions. Most material fails now and then (half a percent of its cells); one in five has
/// something to it. Failures that are neighbours have one cause and count as one: then so many fewer cells tell of the rate.
/// </remarks>
internal static class FailureRate
{
    private const double SeldomShare = 0.8;

    /// <summary>Beta distributions of the rate: a mean of 0.5 %, weighing 60 cells, and one of 1 in 9, weighing 9.</summary>
    private static readonly (double A, double B) Seldom = (0.3, 59.7), Often = (1, 8);

    private const double Tail = 0.025;   // two-sided 95 %

    /// <summary>Probability that the next one does not fail, and its 95 % interval.</summary>
    /// <param name="failures">Failures, or their causes.</param>
    /// <param name="trials">Trials, fewer by the same factor.</param>
    public static Estimate NoneNext(double failures, double trials)
    {
        (double A, double B) seldom = (Seldom.A + failures, Seldom.B + trials - failures),
            often = (Often.A + failures, Often.B + trials - failures);
        double lnSeldom = Math.Log(SeldomShare) + SpecialFunctions.BetaLn(seldom.A, seldom.B) - SpecialFunctions.BetaLn(Seldom.A, Seldom.B);
        double lnOften = Math.Log(1 - SeldomShare) + SpecialFunctions.BetaLn(often.A, often.B) - SpecialFunctions.BetaLn(Often.A, Often.B);
        double share = SpecialFunctions.Logistic(lnSeldom - lnOften);
        double mean = share * seldom.A / (seldom.A + seldom.B) + (1 - share) * often.A / (often.A + often.B);
        return new(1 - mean, 1 - Quantile(1 - Tail), 1 - Quantile(Tail));

        double Quantile(double probability)
        {
            (double low, double high) = (0, 1);
            for (int round = 0; round < 30; round++)
            {
                double middle = (low + high) / 2;
                if (share * Beta.CDF(seldom.A, seldom.B, middle) + (1 - share) * Beta.CDF(often.A, often.B, middle) < probability)
                    low = middle;
                else high = middle;
            }

            return high;
        }
    }
}
