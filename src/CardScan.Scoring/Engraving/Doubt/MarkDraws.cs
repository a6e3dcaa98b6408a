using CardScan.Scoring.Fitting;
using MathNet.Numerics.Random;

namespace CardScan.Scoring.Engraving.Doubt;

/// <summary>What the marks of a material may truly be, after all that its cells tell: some hundred equally careful guesses.</summary>
/// <remarks>Drawn from the laws' posteriors by weight. The same card gives the same draws.</remarks>
internal sealed class MarkDraws
{
    /// <summary>Probabilities near 80 % are known to 2 points; halved, to 3.</summary>
    private const int Draws = 400;

    private const int Seed = 20_011;

    private const int ShareBins = 1000;

    /// <summary>Deviance of a cell beyond which a draw counts no more for finding it unlikely: 3 deviations.</summary>
    private const double MostWithout = 9;

    /// <summary>What a 95 % interval leaves out on each side.</summary>
    private const double Tail = 0.025;

    private readonly LawPosterior[] _laws;
    private readonly List<MarkDraw> _draws = [];
    private readonly double[] _strongest;
    private readonly double[] _best;

    public MarkDraws(LawChoice choice)
    {
        _laws = [.. choice.Laws.Select(law => new LawPosterior(law.Fit))];
        (int Law, PosteriorStep Step)[] steps = [.. _laws.SelectMany((law, k) => law.Steps.Select(step => (k, step)))];
        double most = steps.Max(pair => pair.Step.LnWeight);
        double[] weights = [.. steps.Select(pair => Math.Exp(pair.Step.LnWeight - most))];
        double all = weights.Sum(), passed = 0;
        MersenneTwister chance = new(Seed, threadSafe: false);
        foreach (((int law, PosteriorStep step), double weight) in steps.Zip(weights))
        {
            passed += Draws * weight / all;
            while (_draws.Count + 0.5 < passed) _draws.Add(new(law, _laws[law], step, chance));
        }

        Deviation = steps.Zip(weights, (pair, weight) => pair.Step.Deviation * weight).Sum() / all;
        _strongest = [.. _draws.Select(draw => draw.Strongest)];
        Strongest = _strongest.Average();
        Chance = _draws.Average(draw => draw.Chance) * choice.Best.MiddleDeviation / Strongest;
        int best = StrongestOnAverage();
        _best = [.. _draws.Select(draw => Math.Max(draw.Strengths[best], MarkDraw.Faintest))];
    }

    /// <summary>What the cells leave open of the likeliest law.</summary>
    public LawPosterior Best => _laws[0];

    /// <summary>Strongest mark at a burned setting, by best estimate.</summary>
    public double Strongest { get; }

    /// <summary>Chance of a cell as a share of the strongest mark, deviations from the laws aside.</summary>
    public double Chance { get; }

    /// <summary>How far the material deviates from the laws, in shares of the strongest mark; by best estimate.</summary>
    public double Deviation { get; }

    /// <summary>Share of the strongest mark of each used cell.</summary>
    public ShareEstimate[] Estimates(int cells, double fullMarkShare)
    {
        double[] strengths = new double[_draws.Count];
        ShareEstimate[] estimates = new ShareEstimate[cells];
        for (int cell = 0; cell < cells; cell++)
        {
            for (int k = 0; k < strengths.Length; k++) strengths[k] = _draws[k].Strengths[cell];
            estimates[cell] = EstimateOf(strengths, fullMarkShare);
        }

        return estimates;
    }

    /// <summary>Share of the strongest mark at a burned cell's setting or one beside it.</summary>
    public ShareEstimate EstimateAt(int burned, double fullMarkShare, double lnPowerChange, double lnSpeedChange)
    {
        SettingRows[] rows = [.. _laws.Select(law => law.RowsBeside(burned, [lnPowerChange], lnSpeedChange))];
        double[] strengths = new double[_draws.Count];
        for (int k = 0; k < strengths.Length; k++) _draws[k].Fill(rows[_draws[k].Law], strengths.AsSpan(k, 1));
        return EstimateOf(strengths, fullMarkShare);
    }

    /// <summary>Shares of the strongest mark along a line of powers at a burned cell's speed, by every draw.</summary>
    public IEnumerable<double[]> SharesAlong(int burned, double[] lnPowerChanges)
    {
        SettingRows[] rows = [.. _laws.Select(law => law.RowsBeside(burned, lnPowerChanges, 0))];
        foreach (MarkDraw draw in _draws)
        {
            double[] shares = draw.StrengthsAt(rows[draw.Law]);
            foreach (ref double share in shares.AsSpan()) share /= draw.Strongest;
            yield return shares;
        }
    }

    /// <summary>Strength of the mark along some doses, ln, by every draw; what hangs on power and speed apart is left out.</summary>
    public double[][] StrengthsAlong(double[] lnDoses)
    {
        SettingRows[] rows = [.. _laws.Select(law => law.RowsAtDoses(lnDoses))];
        return [.. _draws.Select(draw => draw.StrengthsAt(rows[draw.Law]))];
    }

    /// <summary>
    /// By how many spreads of cards burned alike an earlier card differs from the reading's own in dose, by every draw;
    /// and in the strength of its marks.
    /// </summary>
    public (double[] Dose, double[] Mark) CardDifferences(int card)
    {
        return ([.. _draws.Select(draw => Difference(draw, 0))], [.. _draws.Select(draw => Difference(draw, 1))]);

        double Difference(MarkDraw draw, int which) =>
            draw.Number(_laws[draw.Law].NumberOfCard(card) + which) - draw.Number(_laws[draw.Law].NumberOfCard(0) + which);
    }

    /// <summary>
    /// How unlike two cards are in dose (0) or in the strength of their marks (1), in deviations of what cards burned
    /// alike and chance would make.
    /// </summary>
    public double CardDistance(int card, int which)
    {
        (double distance, double variance) = _laws[0].CardDifference(card, which);
        // Each of the two has a spread of 1 of its own.
        return Math.Abs(distance) / Math.Sqrt(variance + 2);
    }

    /// <summary>Number of draws.</summary>
    public int Count => _draws.Count;

    /// <summary>Weights of the draws had one cell not been measured: each counts by one over its likelihood of the cell.</summary>
    public void FillWeightsWithout(int cell, Span<double> weights)
    {
        double sum = 0;
        for (int k = 0; k < weights.Length; k++) sum += weights[k] = Math.Exp(Math.Min(_draws[k].DevianceOf(cell), MostWithout) / 2);
        foreach (ref double weight in weights) weight /= sum;
    }

    /// <summary>The draws in which a used cell is a full mark: few, where it is far too fast.</summary>
    public int[] FullMarks(int cell, double fullMarkShare) =>
        [.. Enumerable.Range(0, _draws.Count).Where(k => _draws[k].Strengths[cell] >= fullMarkShare * _draws[k].Strongest)];

    /// <summary>A figure's mean and 95 % limits over the draws.</summary>
    public static (double Mean, double Low, double High) Summary(double[] values)
    {
        double[] sorted = Sorted(values);
        return (values.Average(), QuantileOf(sorted, Tail), QuantileOf(sorted, 1 - Tail));
    }

    /// <summary>A figure's median over the draws.</summary>
    public static double Median(double[] values) => QuantileOf(Sorted(values), 0.5);

    private static double[] Sorted(double[] values)
    {
        double[] sorted = [.. values];
        Array.Sort(sorted);
        return sorted;
    }

    private int StrongestOnAverage()
    {
        double[] sums = new double[_draws[0].Strengths.Length];
        foreach (MarkDraw draw in _draws) Vectors.AddScaled(sums, 1, draw.Strengths);
        return Array.IndexOf(sums, sums.Max());
    }

    /// <summary>Limits to a thousandth of a share: counted into bins, since every cell has some.</summary>
    private ShareEstimate EstimateOf(ReadOnlySpan<double> strengths, double fullMarkShare)
    {
        Span<int> lower = stackalloc int[ShareBins + 1], upper = stackalloc int[ShareBins + 1];
        double sum = 0;
        int full = 0;
        for (int k = 0; k < strengths.Length; k++)
        {
            double share = strengths[k] / _strongest[k];
            sum += share;
            if (share >= fullMarkShare) full++;
            lower[BinOf(share)]++;
            // Of many cells that are equally strong one comes out strongest in each draw: against the one that is so on
            // average, shares reach higher.
            upper[BinOf(strengths[k] / _best[k])]++;
        }

        // No number of draws makes anything certain.
        double probability = (full + 0.5) / (strengths.Length + 1);
        double mean = Math.Clamp(sum / strengths.Length, 0, 1);
        return new(mean, Math.Min(Limit(lower, 0, 1, strengths.Length), mean),
            Math.Max(Limit(upper, ShareBins, -1, strengths.Length), mean), probability);
    }

    private static int BinOf(double share) => (int)Math.Round(ShareBins * Math.Clamp(share, 0, 1));

    /// <summary>The share beyond which, from an end of the bins, as many draws lie as an interval leaves out.</summary>
    private static double Limit(ReadOnlySpan<int> bins, int at, int step, int draws)
    {
        for (int sum = bins[at]; sum <= Tail * draws; sum += bins[at]) at += step;
        return (double)at / ShareBins;
    }

    private static double QuantileOf(double[] sorted, double part) =>
        sorted[Math.Clamp((int)Math.Ceiling(part * sorted.Length) - 1, 0, sorted.Length - 1)];
}
