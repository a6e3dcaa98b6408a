using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving;

/// <summary>The laws that a card supports, weighted by how well each would foretell another card like it.</summary>
/// <remarks>
/// Weights exp(−Δ/2) of <see cref="LawFit.Information"/>. Figures
/// of a setting are averaged over the laws, and their spread between the laws counts as uncertainty (K. P. Burnham, D. R.
/// Anderson, Model Selection and Multimodel Inference, 2nd ed., 2002, ch. 4; from memory).
/// </remarks>
internal sealed class LawChoice
{
    /// <summary>A law less likely than this has no say.</summary>
    private const double LeastWeight = 0.03;

    /// <summary>What a 95 % interval leaves out on each side.</summary>
    private const double Tail = 0.01;

    /// <summary>Student's quantile of each law at which its part of the probability beyond is <see cref="Tail"/>; zero for laws too unlikely to have one.</summary>
    private readonly double[] _tailQuantiles;

    private LawChoice(IReadOnlyList<(LawFit Fit, double Weight)> laws, IReadOnlyList<MarkedCell> outliers)
    {
        (Laws, Outliers) = (laws, outliers);
        _tailQuantiles = [.. laws.Select(law => law.Weight <= 2 * Tail ? 0 : StudentT.InvCDF(0, 1, law.Fit.EffectiveDegreesOfFreedom, 1 - Tail / law.Weight))];
    }

    /// <summary>The laws with their weights, which sum to 1; the likeliest first.</summary>
    public IReadOnlyList<(LawFit Fit, double Weight)> Laws { get; }

    /// <summary>The likeliest law: the one that is reported and drawn.</summary>
    public LawFit Best => Laws[0].Fit;

    /// <summary>Cells that do not fit it, left out by all.</summary>
    public IReadOnlyList<MarkedCell> Outliers { get; }

    /// <summary>The card without its outliers.</summary>
    public EngravedCard Card => Best.Card;

    /// <summary>Null where there is no fit.</summary>
    public static LawChoice? Of(IReadOnlyList<LawFit> fits, IReadOnlyList<MarkedCell> outliers)
    {
        if (fits.Count == 0) return null;
        double least = fits.Min(fit => fit.Information);
        List<(LawFit Fit, double Weight)> weighted = [.. fits.Select(fit => (fit, Math.Exp((least - fit.Information) / 2))).OrderByDescending(pair => pair.Item2)];
        double all = weighted.Sum(pair => pair.Weight);
        weighted.RemoveAll(pair => pair.Weight < LeastWeight * all);
        all = weighted.Sum(pair => pair.Weight);
        return new([.. weighted.Select(pair => (pair.Fit, pair.Weight / all))], outliers);
    }

    /// <summary>How far all laws may miss the true share of the strongest mark, whatever their errors say; RMS.</summary>
    public double Misfit { get; private init; }

    /// <summary>The same laws, with a misfit allowed for in every interval of a share.</summary>
    public LawChoice Allowing(double misfit) => new(Laws, Outliers) { Misfit = misfit };

    /// <summary>Index of a used cell among the burned ones.</summary>
    public int IndexOf(MarkedCell cell) => Card.Marked.Index().First(pair => pair.Item == cell).Index;

    /// <summary>A figure averaged over the laws.</summary>
    public double Average(Func<LawFit, double> figure) => Laws.Sum(law => law.Weight * figure(law.Fit));

    /// <summary>
    /// Standard error of a figure that all laws have: that of each law about the best one's value, so that laws which
    /// fit alike and disagree make it wide.
    /// </summary>
    public double StandardError(Func<LawFit, Func<double[], double>> figure)
    {
        double best = figure(Best)(Best.Parameters.ToArray());
        return Math.Sqrt(Average(fit =>
        {
            Func<double[], double> own = figure(fit);
            return Math.Pow(fit.StandardError(own), 2) + Math.Pow(own(fit.Parameters.ToArray()) - best, 2);
        }));
    }

    /// <summary>Best estimate of <see cref="EstimateAt"/> alone.</summary>
    public double ShareAt(int burned, double lnPowerChange) =>
        Average(fit => fit.Point.ShareAt(burned, lnPowerChange));

    /// <summary>Share of the strongest mark of a burned cell's setting, or of one next to it, averaged over the laws.</summary>
    public ShareEstimate EstimateAt(int burned, double fullMarkShare, double lnPowerChange = 0, double lnSpeedChange = 0) =>
        Averaged([.. Laws.Select(law => law.Fit.ShortfallAt(burned, lnPowerChange, lnSpeedChange))], fullMarkShare);

    /// <summary>The same of all used cells, in their order.</summary>
    public ShareEstimate[] Estimates(double fullMarkShare)
    {
        Shortfall[][] all = [.. Laws.Select(law => law.Fit.Shortfalls())];
        return [.. Card.Marked.Select((_, i) => Averaged([.. all.Select(shortfalls => shortfalls[i])], fullMarkShare))];
    }

    /// <summary>The laws' opinions of one setting, in their order, put together.</summary>
    private ShareEstimate Averaged(Shortfall[] opinions, double fullMarkShare)
    {
        ShareEstimate[] each = [.. Laws.Select((law, k) => law.Fit.EstimateOf(opinions[k], fullMarkShare))];
        if (each.Length == 1) return Allowed(each[0]);

        double share = Weighted(estimate => estimate.Share);
        double low = share - Spread(estimate => estimate.Share - estimate.Low), high = share + Spread(estimate => estimate.High - estimate.Share);
        // A law alone has its weight's part of the tails: beyond its limits for that part the others would have to agree.
        for (int k = 0; k < each.Length; k++)
        {
            if (!(_tailQuantiles[k] > 0)) continue;
            (_, double lowest, double highest) = opinions[k].Shares(_tailQuantiles[k]);
            (low, high) = (Math.Min(low, lowest), Math.Max(high, highest));
        }

        return Allowed(new(share, Math.Max(0, low), Math.Min(1, high), Weighted(estimate => estimate.FullMarkProbability)));

        ShareEstimate Allowed(ShareEstimate stated) => stated with
        {
            Low = Math.Max(0, stated.Share - Wider(stated.Share - stated.Low)),
            High = Math.Min(1, stated.Share + Wider(stated.High - stated.Share)),
        };

        double Wider(double half) => Math.Sqrt(half * half + 4 * Misfit * Misfit);

        double Weighted(Func<ShareEstimate, double> figure) => each.Select((estimate, k) => Laws[k].Weight * figure(estimate)).Sum();

        // Two standard errors of one law and twice the distance between laws are of one kind.
        double Spread(Func<ShareEstimate, double> half) =>
            Math.Sqrt(Weighted(estimate => Math.Pow(half(estimate), 2) + Math.Pow(2 * (estimate.Share - share), 2)));
    }
}
