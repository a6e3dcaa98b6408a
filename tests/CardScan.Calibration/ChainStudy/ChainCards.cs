using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Calibration;

/// <summary>Cards of one material, each planned by what the ones before it told.</summary>
internal sealed class ChainCards
{
    private readonly List<TrueCard> _cards;
    private readonly List<Reading> _readings;

    public ChainCards(TrueCard first, Chance chance)
        : this([], []) => Burn(first, chance);

    private ChainCards(List<TrueCard> cards, List<Reading> readings) => (_cards, _readings) = (cards, readings);

    /// <summary>The newest card, judged as one of all of them.</summary>
    public TrueCard Truth => _cards[^1].Among(_cards.Select(card => card.Grid));

    /// <summary>The newest reading as it was measured.</summary>
    public Reading Newest => _readings[^1];

    /// <summary>The newest reading, scored together with the earlier ones.</summary>
    public Reading Scored => CardScorer.Score(_readings[^1], [.. _readings.SkipLast(1)], ScoringOptions.Default);

    /// <summary>What the scoring would burn next; a refusal where it knows nothing to burn.</summary>
    public Outcome<NextRanges> Next(NextCardOptions options) => NextCard.Plan(_readings[^1], [.. _readings.SkipLast(1)], options);

    public void Burn(NextRanges next, CardChance own, Chance chance) =>
        Burn(_cards[0].On(new(_cards[0].Grid.Process, [.. next.PowersPercent], [.. next.SpeedsMmPerMin])).With(own), chance);

    /// <summary>The first card once more.</summary>
    public void BurnAgain(CardChance own, Chance chance) => Burn(_cards[0].With(own), chance);

    /// <summary>The same cards, which may go on otherwise.</summary>
    public ChainCards Copy() => new([.. _cards], [.. _readings]);

    private void Burn(TrueCard card, Chance chance)
    {
        _cards.Add(card);
        Reading reading = card.Read(chance);
        _readings.Add(reading with { Plan = reading.Plan with { Number = reading.Plan.Number + _readings.Count } });
    }
}
