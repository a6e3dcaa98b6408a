using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Next.Knowledge;

/// <summary>What the burned cards tell, and the laws that they leave plausible.</summary>
internal sealed class CardKnowledge
{
    /// <summary>Pairs of laws drawn about the best one. More change the planned cards by a step here and there.</summary>
    private const int Pairs = 5;

    private CardKnowledge(PlausibleLaw[] plausible, double[] before, double[][] cards) =>
        (Plausible, Before, Cards, Now) = (plausible, before, cards, SumOf(plausible[0], before, cards));

    /// <summary>The likeliest law.</summary>
    public PlausibleLaw Best => Plausible[0];

    /// <summary>Laws that the cards leave plausible, the likeliest first.</summary>
    public IReadOnlyList<PlausibleLaw> Plausible { get; }

    /// <summary>Information of what is known beforehand, lower triangle.</summary>
    public double[] Before { get; }

    /// <summary>What each burned card tells of the law that it followed itself, the newest first.</summary>
    public IReadOnlyList<double[]> Cards { get; }

    /// <summary>What is known beforehand and by all burned cards, each with a chance of its own.</summary>
    public double[] Now { get; }

    /// <summary>Sums what is known and draws plausible laws.</summary>
    /// <param name="parameters">The likeliest parameters.</param>
    /// <param name="box">Least and most values of them that are believed.</param>
    /// <param name="before">What is known of them beforehand, as information.</param>
    /// <param name="lawOf">The law of some parameters.</param>
    /// <param name="cardsBy">What each burned card tells, by the likeliest law.</param>
    /// <returns>Null where what is known does not determine the law.</returns>
    public static CardKnowledge? Of(
        double[] parameters, (double[] Least, double[] Most) box, double[] before, Func<double[], PlausibleLaw> lawOf,
        Func<PlausibleLaw, double[][]> cardsBy)
    {
        PlausibleLaw best = lawOf(parameters);
        double[][] cards = cardsBy(best);
        double[] root = SumOf(best, before, cards);
        if (!SmallMatrix.TryFactor(root, parameters.Length, root, out _)) return null;

        List<PlausibleLaw> plausible = [best];
        for (int pair = 1; pair <= Pairs; pair++)
        {
            double[] deviates = Deviates(pair, parameters.Length);
            SmallMatrix.SolveTransposed(root, deviates);
            foreach (int sign in (ReadOnlySpan<int>)[1, -1])
                plausible.Add(
                    lawOf([.. parameters.Select((value, j) => Math.Clamp(value + sign * deviates[j], box.Least[j], box.Most[j]))]));
        }

        return new([.. plausible], before, cards);
    }

    private static double[] SumOf(PlausibleLaw law, double[] before, double[][] cards)
    {
        double[] sum = (double[])before.Clone();
        foreach (double[] card in cards) Information.AddTo(sum, Information.WithOwnChance(card, law));
        return sum;
    }

    /// <summary>Probability that a cell reaches the goal, over all that is not known.</summary>
    public double ChanceOfGoal(double lnPower, double lnSpeed) => Plausible.Average(law => law.ChanceOfGoal(lnPower, lnSpeed));

    /// <summary>
    /// Standard normal deviates that fill space evenly, the same in every run (additive recurrence on the roots of x^(n+1) = x + 1).
    /// </summary>
    private static double[] Deviates(int index, int size)
    {
        double root = 1.5;
        for (int i = 0; i < 40; i++) root = Math.Pow(1 + root, 1.0 / (size + 1));
        return [.. Enumerable.Range(1, size).Select(j => Normal.InvCDF(0, 1, (0.5 + index * Math.Pow(root, -j)) % 1))];
    }
}
