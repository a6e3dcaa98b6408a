using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Cutting;

/// <summary>A card with the earlier ones that are scored with it, each with a chance of its own.</summary>
/// <param name="Card">
/// All judged cells; <see cref="CutCell.Card"/> is 0 for the newest reading's and else the place in
/// <paramref name="Earlier"/>, from 1 on.
/// </param>
/// <param name="Earlier">The earlier readings that are in it.</param>
/// <param name="Disagreeing">The earlier readings whose limit differs by more than chance allows; then none is joined.</param>
internal sealed record JoinedCuts(CutCard Card, ValueList<Reading> Earlier, ValueList<Reading> Disagreeing)
{
    /// <summary>Probability at which chance alone would call cards different.</summary>
    private const double Level = 0.01;

    public static JoinedCuts Of(Reading reading, IReadOnlyCollection<Reading> earlier)
    {
        CutCard own = CutCard.Of(reading);
        (Reading Reading, CutCard Card)[] others =
            [.. earlier.Select(one => (one, CutCard.Of(one))).Where(one => one.Item2.Cells.Count > 0)];
        if (own.Cells.Count == 0 || others.Length == 0) return new(own, [], []);
        ValueList<Reading> disagreeing = others.Where(other => Disagree(own, other.Card)).Select(other => other.Reading).ToValueList();
        return disagreeing.Count > 0 ? new(own, [], disagreeing)
            : new(Together([own, .. others.Select(other => other.Card)]), others.Select(other => other.Reading).ToValueList(), []);
    }

    /// <summary>What the reading tells of each earlier card.</summary>
    public ValueList<JoinedCard>? Told(CutModel? model) =>
        Earlier.Count == 0 ? null : Earlier.Select((reading, i) => JoinedCard.Of(reading, Card.Cells.Count(cell => cell.Card == i + 1)) with
        {
            DoseFactor = model?.DoseFactorOf(i + 1),
        }).ToValueList();

    /// <summary>A likelihood ratio: a limit of each card's own, against limits that differ no more than pieces usually do.</summary>
    private static bool Disagree(CutCard one, CutCard other)
    {
        CutCard both = Together([one, other]);
        return both.IsMixed && CutModel.GainOfOwnLimits(both) > ChiSquared.InvCDF(1, 1 - Level);
    }

    private static CutCard Together(IReadOnlyList<CutCard> cards) =>
        new(cards.SelectMany((card, i) => card.Cells.Select(cell => cell with { Card = i })).ToValueList())
        {
            ClosesAgain = cards.Any(card => card.ClosesAgain),
            IsEndDoubtful = cards.Where(card => card.ClosesAgain).All(card => card.IsEndDoubtful),
        };
}
