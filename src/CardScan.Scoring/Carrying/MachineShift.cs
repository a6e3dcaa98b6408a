using CardScan.Model;
using MathNet.Numerics.RootFinding;

namespace CardScan.Scoring.Carrying;

/// <summary>
/// How much more or less energy a material needs on another machine, as far as materials that were burned on both tell.
/// </summary>
/// <remarks>docs/method/carrying.md. Immutable; every question asked of it is answered by integration, so nothing is random.</remarks>
public sealed class MachineShift
{
    /// <summary>Scale of the half-normal prior of the spread from material to material, ln; a judgement: ln 1.5.</summary>
    private static readonly double PriorScale = Math.Log(1.5);

    /// <summary>Before any card on the new machine: as much energy as on the old one, to within a factor of 2 (no source), ln.</summary>
    private static readonly double CommonScale = Math.Log(2);

    private const int GridSize = 40;

    /// <summary>The grid ends at so many scales of the prior.</summary>
    private const double GridEnd = 4;

    /// <summary>A material that the others let expect with less probability is odd, where there are enough others.</summary>
    private const double OddProbability = 0.01;

    private const int FewestOthers = 3;

    /// <summary>A further material may be odd, too: then it spreads by so many times as much (chosen by simulation).</summary>
    private const double OddSpread = 2;

    private static readonly double[] Taus =
        [.. Enumerable.Range(0, GridSize).Select(i => (i + 0.5) / GridSize * GridEnd * PriorScale)];

    private readonly ShiftPosterior _pool, _all;
    private readonly double _oddShare;

    private MachineShift(ValueList<BurnedOnBoth> pooled, ValueList<BurnedOnBoth> odd)
    {
        (Pooled, Odd) = (pooled, odd);
        _oddShare = (odd.Count + 0.5) / (pooled.Count + odd.Count + 1);
        (_pool, _all) = (PosteriorOf(pooled), PosteriorOf([.. pooled, .. odd]));
    }

    /// <summary>The materials that tell it.</summary>
    public ValueList<BurnedOnBoth> Pooled { get; }

    /// <summary>Those that the others do not let expect; they are left out, and widen what is stated of the next.</summary>
    public ValueList<BurnedOnBoth> Odd { get; }

    /// <summary>Finds it.</summary>
    /// <param name="both">The materials that were burned on both machines; none leaves what the watts alone suggest.</param>
    /// <exception cref="ArgumentNullException">There is no list.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An error is not above 0.</exception>
    public static MachineShift Of(ValueList<BurnedOnBoth> both)
    {
        ArgumentNullException.ThrowIfNull(both);
        foreach (BurnedOnBoth material in both) ArgumentOutOfRangeException.ThrowIfNegativeOrZero(material.StandardError, nameof(both));
        List<BurnedOnBoth> pooled = [.. both], odd = [];
        while (pooled.Count > FewestOthers && Oddest(pooled) is { } oddest)
        {
            pooled.Remove(oddest);
            odd.Add(oddest);
        }

        return new(pooled.ToValueList(), odd.ToValueList());
    }

    /// <summary>Probability that a material that was not burned on the new machine needs less than a factor of the energy.</summary>
    /// <param name="lnFactor">ln of the factor.</param>
    /// <param name="variance">Of what else is not known of ln of the energy.</param>
    public double Below(double lnFactor, double variance = 0) => (1 - _oddShare) * _pool.Below(lnFactor, variance: variance)
        + _oddShare * _all.Below(lnFactor, OddSpread, variance);

    /// <summary>The factor of energy of a material that was not burned on the new machine: median and 95 % interval.</summary>
    public Interval Factor => new("energyFactor", At(0.5), At(0.025), At(0.975));

    /// <summary>What a further card would leave of it, where that came out as expected.</summary>
    /// <param name="standardError">Of that card's ln factor.</param>
    public MachineShift WithOneMore(double standardError) => Of([.. Pooled, .. Odd, new("", Math.Log(Factor.Value), standardError)]);

    private double At(double probability)
    {
        const double Far = 10;
        return Math.Exp(Brent.FindRoot(ln => Below(ln) - probability, -Far, Far, 1e-8));
    }

    /// <summary>The material that the others least let expect; null where none is odd.</summary>
    private static BurnedOnBoth? Oddest(List<BurnedOnBoth> all)
    {
        (BurnedOnBoth material, double chance) = all.Select(material =>
        {
            double below = PosteriorOf(all.Where(other => !ReferenceEquals(other, material)))
                .Below(material.LnFactor, variance: material.StandardError * material.StandardError);
            return (material, 2 * Math.Min(below, 1 - below));
        }).MinBy(each => each.Item2);
        return chance < OddProbability ? material : null;
    }

    private static ShiftPosterior PosteriorOf(IEnumerable<BurnedOnBoth> materials) => new(
        [.. materials.Select(material => (material.LnFactor, material.StandardError * material.StandardError))],
        Taus, tau => -0.5 * Math.Pow(tau / PriorScale, 2), CommonScale * CommonScale);
}
