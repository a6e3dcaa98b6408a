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
    private readonly int _best;

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
        Strongest = Mean(draw => draw.Strongest);
        Chance = Mean(draw => draw.Chance) * choice.Best.MiddleDeviation / Strongest;
        _best = Enumerable.Range(0, _draws[0].Strengths.Length).MaxBy(cell => Mean(draw => draw.Strengths[cell]));
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
    public ShareEstimate[] Estimates(int cells, double fullMarkShare) =>
        [.. Enumerable.Range(0, cells).Select(cell => EstimateOf([.. _draws.Select(draw => draw.Strengths[cell])], fullMarkShare))];

    /// <summary>Share of the strongest mark at a burned cell's setting or one beside it.</summary>
    public ShareEstimate EstimateAt(int burned, double fullMarkShare, double lnPowerChange, double lnSpeedChange)
    {
        SettingRow[] rows = [.. _laws.Select(law => law.RowAt(burned, lnPowerChange, lnSpeedChange))];
        return EstimateOf([.. _draws.Select(draw => draw.StrengthAt(rows[draw.Law]))], fullMarkShare);
    }

    /// <summary>Shares of the strongest mark along a line of powers at a burned cell's speed, by every draw.</summary>
    public double[][] SharesAlong(int burned, double[] lnPowerChanges)
    {
        SettingRow[][] rows = [.. _laws.Select(law => lnPowerChanges.Select(change => law.RowAt(burned, change, 0)).ToArray())];
        return [.. _draws.Select(draw => rows[draw.Law].Select(row => draw.StrengthAt(row) / draw.Strongest).ToArray())];
    }

    /// <summary>Strength of the mark along some doses, ln, by every draw; what hangs on power and speed apart is left out.</summary>
    public double[][] StrengthsAlong(double[] lnDoses)
    {
        SettingRow[][] rows = [.. _laws.Select(law => lnDoses.Select(law.RowAtDose).ToArray())];
        return [.. _draws.Select(draw => rows[draw.Law].Select(draw.StrengthAt).ToArray())];
    }

    /// <summary>By how many spreads of cards burned alike an earlier card differs from the reading's own in dose, by every draw; and in the strength of its marks.</summary>
    public (double[] Dose, double[] Mark) CardDifferences(int card)
    {
        return ([.. _draws.Select(draw => Difference(draw, 0))], [.. _draws.Select(draw => Difference(draw, 1))]);

        double Difference(MarkDraw draw, int which) => draw.Number(_laws[draw.Law].NumberOfCard(card) + which) - draw.Number(_laws[draw.Law].NumberOfCard(0) + which);
    }

    /// <summary>How unlike two cards are in dose (0) or in the strength of their marks (1), in deviations of what cards burned alike and chance would make.</summary>
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

    private double Mean(Func<MarkDraw, double> figure) => _draws.Average(figure);

    private ShareEstimate EstimateOf(double[] strengths, double fullMarkShare)
    {
        double[] shares = [.. strengths.Select((strength, k) => strength / _draws[k].Strongest)];
        double low = ShareLimit(shares, isUpper: false);
        // Of many cells that are equally strong one comes out strongest in each draw: against the one that is so on average, shares reach higher.
        double high = ShareLimit([.. strengths.Select((strength, k) => strength / Math.Max(_draws[k].Strengths[_best], 1e-9))], isUpper: true);
        // No number of draws makes anything certain.
        double probability = (shares.Count(share => share >= fullMarkShare) + 0.5) / (shares.Length + 1);
        double mean = Math.Clamp(shares.Average(), 0, 1);
        return new(mean, Math.Min(low, mean), Math.Max(high, mean), probability);
    }

    /// <summary>A limit of a share, to a thousandth: counted into bins, since every cell has one.</summary>
    private static double ShareLimit(double[] shares, bool isUpper)
    {
        Span<int> bins = stackalloc int[ShareBins + 1];
        foreach (double share in shares) bins[(int)Math.Round(ShareBins * Math.Clamp(share, 0, 1))]++;
        int at = isUpper ? ShareBins : 0, step = isUpper ? -1 : 1;
        for (int sum = bins[at]; sum <= Tail * shares.Length; sum += bins[at]) at += step;
        return (double)at / ShareBins;
    }

    private static double QuantileOf(double[] sorted, double part) => sorted[Math.Clamp((int)Math.Ceiling(part * sorted.Length) - 1, 0, sorted.Length - 1)];
}
