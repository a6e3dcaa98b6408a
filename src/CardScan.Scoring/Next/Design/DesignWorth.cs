using CardScan.Scoring.Fitting;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next.Design;

/// <summary>What a grid of settings is expected to tell, averaged over the laws that the burned cards leave plausible.</summary>
/// <remarks>
/// Mostly how closely the limit at the speed in question is known by all cards together (c-optimality); in part by the new
/// card alone, which must stand by itself; and in part the determinant of its information (D-optimality), which keeps the
/// law itself testable. All as logarithms of standard errors, so that none has a unit. docs/method/next-card.md.
/// </remarks>
internal sealed class DesignWorth
{
    /// <summary>Share of the limit by the new card alone against that by all cards, and weight of a mean parameter's error.</summary>
    private const double AloneShare = 0.3, TestShare = 0.15;

    private readonly CardKnowledge _known;
    private readonly double[][] _gradients;
    private readonly double[][] _tables;
    private readonly int _length;
    private readonly int _speeds;

    /// <summary>Works out once what each cell would tell by each law.</summary>
    public DesignWorth(CardKnowledge known, double[] powers, double[] speeds, double speedInQuestion)
    {
        _known = known;
        _length = known.Before.Length;
        _speeds = speeds.Length;
        double lnSpeed = Math.Log(speedInQuestion);
        _gradients = [.. known.Plausible.Select(law =>
        {
            double[] gradient = new double[law.Size];
            law.LimitGradient(lnSpeed, gradient);
            return gradient;
        })];
        _tables = [.. known.Plausible.Select(law => TableOf(law, powers, speeds))];
    }

    /// <summary>Laws over which is averaged.</summary>
    public int Laws => _tables.Length;

    /// <summary>Numbers of one information.</summary>
    public int Length => _length;

    /// <summary>What a cell of some power and speed would tell by a law.</summary>
    public ReadOnlySpan<double> CellOf(int law, int power, int speed) => _tables[law].AsSpan((power * _speeds + speed) * _length, _length);

    /// <summary>The worth of a card by what it tells, one information a law, in one row; larger is better.</summary>
    public double Of(ReadOnlySpan<double> told)
    {
        Span<double> card = stackalloc double[_length], root = stackalloc double[_length];
        double worth = 0;
        for (int law = 0; law < Laws; law++)
        {
            PlausibleLaw of = _known.Plausible[law];
            told.Slice(law * _length, _length).CopyTo(card);
            Information.EliminateOwnChance(card, of);
            Sum(card, _known.Before, root);
            if (!SmallMatrix.TryFactor(root, of.Size, root, out double lnDeterminant)) return double.NegativeInfinity;
            double alone = SmallMatrix.QuadraticOfInverse(root, _gradients[law]);
            Sum(card, _known.Now, root);
            if (!SmallMatrix.TryFactor(root, of.Size, root, out _)) return double.NegativeInfinity;
            double together = SmallMatrix.QuadraticOfInverse(root, _gradients[law]);
            worth -= ((1 - AloneShare) * Math.Log(together) + AloneShare * Math.Log(alone) - TestShare * lnDeterminant / of.Size) / 2;
        }

        return worth / Laws;
    }

    private static void Sum(ReadOnlySpan<double> a, ReadOnlySpan<double> b, Span<double> into)
    {
        for (int i = 0; i < into.Length; i++) into[i] = a[i] + b[i];
    }

    private double[] TableOf(PlausibleLaw law, double[] powers, double[] speeds)
    {
        double[] table = new double[powers.Length * speeds.Length * _length];
        double[] lnSpeeds = [.. speeds.Select(speed => Math.Log(speed))];
        for (int p = 0; p < powers.Length; p++)
        {
            double lnPower = Math.Log(powers[p]);
            for (int v = 0; v < speeds.Length; v++) law.Add(table.AsSpan((p * speeds.Length + v) * _length, _length), lnPower, lnSpeeds[v]);
        }

        return table;
    }
}
