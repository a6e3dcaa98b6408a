using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;
using CardScan.Scoring.Fitting;
using MathNet.Numerics.Statistics;

namespace CardScan.Scoring.Engraving;

/// <summary>How an earlier card compares with the reading's own, at the same settings.</summary>
/// <param name="Card">Index of the earlier card, from 1.</param>
/// <param name="DoseFactor">Energy that it seems to have got, over that of the reading's own card.</param>
/// <param name="MarkFactor">Strength of its marks over that of the reading's own.</param>
/// <param name="Distance">How unlike the two are, in deviations of cards that are burned alike.</param>
internal sealed record CardAgreement(int Card, Measured DoseFactor, Measured MarkFactor, double Distance)
{
    /// <summary>Cards burned alike differ by more three times in a thousand.</summary>
    private const double MostDistance = 3;

    public bool Agrees => Distance <= MostDistance;

    /// <summary>One for each earlier card of which cells are used.</summary>
    public static IEnumerable<CardAgreement> Of(MarkDraws draws, EngravedCard card) =>
        card.Marked.Select(cell => cell.Cell.Card).Where(index => index > 0).Distinct().Order().Select(index =>
        {
            (double[] dose, double[] mark) = draws.CardDifferences(index);
            double distance = Math.Max(draws.CardDistance(index, 0), draws.CardDistance(index, 1));
            return new CardAgreement(index, FactorOf(dose, CardSpread.OfDose), FactorOf(mark, CardSpread.OfMark), distance);
        });

    private static Measured FactorOf(double[] numbers, double spread)
    {
        double factor = Math.Exp(spread * numbers.Average());
        return new(Math.Round(factor, 4), Math.Round(factor * spread * numbers.StandardDeviation(), 4));
    }
}
