using CardScan.Model;
using CardScan.Scoring;

namespace CardScan.Workflow;

/// <summary>An earlier card that another is scored with.</summary>
/// <param name="Reading">Its reading.</param>
/// <param name="FirstReadUtc">When the card was first read, UTC; null where it did not come from the archive.</param>
internal sealed record EarlierCard(Reading Reading, DateTimeOffset? FirstReadUtc)
{
    /// <summary>The number in its markers.</summary>
    public int Number => Reading.Plan.Number;
}

/// <summary>The earlier cards that a reading is scored with.</summary>
/// <param name="Cards">The cards, each of another number, all of them alike; newest first where the archive gave them.</param>
/// <param name="Doubts">What kept others away, where a person should know.</param>
internal sealed record Company(ValueList<EarlierCard> Cards, ValueList<Warning> Doubts)
{
    /// <summary>
    /// Most cards beside the reading's own: chance from card to card is known to a quarter of itself by nine cards
    /// (1 / √(2 · 8)), and what is older may be of another state of the machine.
    /// </summary>
    public const int MostCards = 8;

    /// <summary>A card that is scored alone.</summary>
    public static Company None { get; } = new([], []);

    /// <summary>Their readings, as the scoring takes them.</summary>
    public ValueList<Reading> Readings => Cards.Select(card => card.Reading).ToValueList();

    /// <summary>What is known of them before anything is scored: the cells that were measured, and the days.</summary>
    public ValueList<JoinedCard> Listed =>
        Cards.Select(card => WithDay(JoinedCard.Of(card.Reading, card.Reading.Cells.Count(IsMeasured)))).ToValueList();

    /// <summary>A scored reading, the cards that it was scored with under their days.</summary>
    public Reading Dated(Reading scored) =>
        scored.Joined is { } joined ? scored with { Joined = joined.Select(card => WithDay(card)).ToValueList() } : scored;

    /// <summary>True where a reading may be scored with these cards: alike, of a number of its own, and one of not too many.</summary>
    /// <param name="own">The reading whose company it would join.</param>
    /// <param name="other">The reading.</param>
    public bool Takes(Reading own, Reading other) =>
        Cards.Count < MostCards
        && Readings.Append(own).All(each => each.Plan.Number != other.Plan.Number && CardJoin.Obstacle(each, other) is null);

    private static bool IsMeasured(CellReading cell) =>
        !cell.Flags.Any(CellFlag.IsDisqualifying) && (cell.Darkness is not null || cell.Contrast is not null || cell.Sides is not null);

    private JoinedCard WithDay(JoinedCard joined)
    {
        if (Cards.FirstOrDefault(card => card.Number == joined.Number) is not { } card) return joined;
        return joined with
        {
            Taken = joined.Taken ?? card.Reading.Photos.Max(photo => photo.Taken),
            FirstReadUtc = joined.FirstReadUtc ?? card.FirstReadUtc?.UtcDateTime,
        };
    }
}
