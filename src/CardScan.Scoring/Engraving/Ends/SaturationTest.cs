using CardScan.Model;
using MathNet.Numerics.Distributions;
using MathNet.Numerics.LinearRegression;

namespace CardScan.Scoring.Engraving;

/// <summary>How much the mark changes over the whole card, by a straight line in ln dose.</summary>
/// <param name="WeakestShare">Fitted strength at the weak end over that at the strong end, 0 to 1.</param>
/// <param name="Low">Lower limit of its 95 % interval.</param>
/// <param name="High">Upper limit of its 95 % interval.</param>
/// <param name="Probability">Probability that even the weakest is a full mark.</param>
/// <param name="AreAlike">True where no cell is visibly weaker than the rest: the card is saturated.</param>
internal sealed record SaturationTest(double WeakestShare, double Low, double High, double Probability, bool AreAlike)
{
    /// <summary>Chance of a cell beyond which "alike" says nothing any more.</summary>
    private const double LargestChance = 0.06;

    /// <summary>Null where the dose does not vary or fewer than three cells are used.</summary>
    public static SaturationTest? Of(EngravedCard card, double fullMarkShare)
    {
        int count = card.Marked.Count;
        double[] dose = [.. card.Marked.Select(cell => cell.Cell.LnDose)];
        if (count < 3 || dose.Max() - dose.Min() < 1e-6) return null;

        double[] strength = [.. card.Marked.Select(cell => cell.Strength)];
        double mean = strength.Average();
        double centre = dose.Average();
        (double intercept, double slope) = SimpleRegression.Fit([.. dose.Select(x => x - centre)], strength);
        double[] ends = [intercept + slope * (dose.Min() - centre), intercept + slope * (dose.Max() - centre)];
        double share = ends.Min() / ends.Max();
        double residual = Math.Sqrt(dose.Select((x, i) => Math.Pow(strength[i] - intercept - slope * (x - centre), 2)).Sum() / (count - 2));
        double stated = Math.Sqrt(card.Marked.Average(cell => cell.StandardError * cell.StandardError));
        double deviation = Math.Max(residual, stated);
        double slopeError = deviation / Math.Sqrt(dose.Sum(x => (x - centre) * (x - centre)));
        double shareError = slopeError * (dose.Max() - dose.Min()) / mean;

        // Whichever way the line runs by chance, only less mark at less dose speaks against a full mark everywhere.
        double fall = slope >= 0 ? 1 - share : 0;
        double probability = shareError > 0 ? Normal.CDF(0, 1, (1 - fullMarkShare - fall) / shareError) : 1;
        double chance = deviation / mean;
        bool noneIsWeak = strength.Min() >= mean * (1 - (1 - fullMarkShare) - 2.5 * Math.Min(chance, LargestChance));
        bool areAlike = mean > 0 && chance <= LargestChance && share >= fullMarkShare && noneIsWeak;
        double margin = NormalQuantile.TwoSided95 * shareError;
        return new(1 - fall, Math.Max(0, 1 - fall - margin), Math.Min(1, 1 - fall + margin), probability, areAlike);
    }
}
