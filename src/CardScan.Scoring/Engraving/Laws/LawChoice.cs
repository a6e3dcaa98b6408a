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

    private LawChoice(IReadOnlyList<(LawFit Fit, double Weight)> laws, IReadOnlyList<MarkedCell> outliers) =>
        (Laws, Outliers) = (laws, outliers);

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
        List<(LawFit Fit, double Weight)> weighted =
            [.. fits.Select(fit => (fit, Math.Exp((least - fit.Information) / 2))).OrderByDescending(pair => pair.Item2)];
        double all = weighted.Sum(pair => pair.Weight);
        weighted.RemoveAll(pair => pair.Weight < LeastWeight * all);
        all = weighted.Sum(pair => pair.Weight);
        return new([.. weighted.Select(pair => (pair.Fit, pair.Weight / all))], outliers);
    }

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
}
