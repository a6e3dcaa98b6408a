namespace CardScan.Scoring.History;

/// <summary>The exponentially weighted moving average of cards with its exact limits.</summary>
/// <remarks>
/// z ← λ · x + (1 − λ) · z from 0; limits ± L · standard deviation of z. With cards of equal variance σ² that is
/// L · σ · √(λ / (2 − λ) · (1 − (1 − λ)^2t)) (Montgomery, equation 9.25). Here the error of what each kind is held against is added, which
/// its cards share.
/// </remarks>
internal sealed class RunningMean(double weight = RunningMean.UsualWeight, double width = RunningMean.UsualWidth)
{
    /// <summary>λ and L: 500 cards on average until a false alarm (Lucas and Saccucci 1990, from memory).</summary>
    public const double UsualWeight = 0.2, UsualWidth = 2.962;

    private readonly Dictionary<string, (double Weight, int Cards)> _kinds = [];
    private double _mean, _variance;

    /// <summary>Adds a card.</summary>
    /// <returns>The mean, and how far it may lie from 0.</returns>
    public (double Ln, double Limit) Add(CardDeviation card, NeedSpread spread)
    {
        _mean += weight * (card.Point!.Ln - _mean);
        _variance = (1 - weight) * (1 - weight) * _variance + weight * weight * spread.VarianceOf(card);
        foreach ((string kind, (double old, int cards)) in _kinds) _kinds[kind] = ((1 - weight) * old, cards);
        _kinds[card.Kind] = (_kinds.GetValueOrDefault(card.Kind).Weight + weight, card.Cards);
        double shared = _kinds.Values.Sum(kind => Math.Pow(kind.Weight * spread.Deviation, 2) / kind.Cards);
        return (_mean, width * Math.Sqrt(_variance + shared));
    }
}
