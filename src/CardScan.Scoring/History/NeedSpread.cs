using CardScan.Model;
using CardScan.Scoring.Comparing;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.History;

/// <summary>How far a card lies from the mean of the first cards of its kind.</summary>
/// <param name="Point">How far; null where it is the only one.</param>
/// <param name="Kind">Its kind.</param>
/// <param name="Cards">First cards of the kind.</param>
internal sealed record CardDeviation(NeedPoint? Point, string Kind, int Cards);

/// <summary>What cards of one kind differ by while nothing changes, ln of energy.</summary>
/// <param name="Deviation">Standard deviation from card to card.</param>
/// <param name="OwnVariance">Mean variance of the first cards by their own cells, which is part of that.</param>
internal sealed record NeedSpread(double Deviation, double OwnVariance)
{
    /// <summary>By the moving range of the first cards (individuals chart); at least what pieces of one sheet differ by.</summary>
    /// <param name="first">Two or more, in their order, each of a kind with another among them.</param>
    public static NeedSpread Of(IReadOnlyList<CardDeviation> first)
    {
        double own = first.Average(each => each.Point!.StandardError * each.Point.StandardError);
        double moving = IndividualsChart.DeviationOf([.. first.Zip(first.Skip(1), RangeOf)]);
        return new(Math.Max(moving, double.Hypot(CardSpread.OfDose, Math.Sqrt(own))), own);
    }

    /// <summary>Standard deviation of a card from the mean of the first of its kind; of those themselves without the mean's own.</summary>
    public double OfCard(CardDeviation card, bool isFirst) =>
        Math.Sqrt(VarianceOf(card) + (isFirst ? 0 : Deviation * Deviation / card.Cards));

    /// <summary>Variance of a card by itself: one that was measured less well than the first cards spreads more.</summary>
    public double VarianceOf(CardDeviation card) =>
        Deviation * Deviation + Math.Max(0, card.Point!.StandardError * card.Point.StandardError - OwnVariance);

    /// <summary>Mean of some cards and its standard error: those of a kind share the error of what they are held against.</summary>
    public (double Ln, double Error) MeanOf(IReadOnlyList<CardDeviation> cards)
    {
        double own = cards.Sum(VarianceOf);
        double shared = cards.GroupBy(card => card.Kind)
            .Sum(kind => Math.Pow(kind.Count() * Deviation, 2) / kind.First().Cards);
        return (cards.Average(card => card.Point!.Ln), Math.Sqrt(own + shared) / cards.Count);
    }

    /// <summary>Of two cards of one kind its mean drops out; of two kinds each lies nearer to its own mean by its part in it.</summary>
    private static double RangeOf(CardDeviation one, CardDeviation other)
    {
        double variance = one.Kind == other.Kind ? 2 : 2 - 1.0 / one.Cards - 1.0 / other.Cards;
        return Math.Abs(one.Point!.Ln - other.Point!.Ln) * Math.Sqrt(2 / variance);
    }
}
