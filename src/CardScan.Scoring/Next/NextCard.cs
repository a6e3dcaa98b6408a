using CardScan.Model;
using CardScan.Scoring.Next;

namespace CardScan.Scoring;

/// <summary>Plans the settings of the card that follows a burned one.</summary>
/// <remarks>Only the cells' settings and measured values are read, whoever wrote the reading. Method: docs/method/next-card.md.</remarks>
public static class NextCard
{
    /// <summary>The settings to try next: about the answer where the card holds one, further on where it does not.</summary>
    /// <param name="reading">A reading whose cells are measured; it is scored here.</param>
    /// <param name="options">Goal, size, steps and the machine's limits.</param>
    /// <returns>The ranges and what they are for; or why this card gives no basis for another.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static Outcome<NextRanges> Plan(Reading reading, NextCardOptions options) => Plan(reading, [], options);

    /// <summary>The settings to try next, by all that several cards of one material, thickness, batch, machine and focus tell.</summary>
    /// <param name="reading">The newest reading.</param>
    /// <param name="earlier">Readings of the earlier cards, which may be joined with it (<see cref="CardJoin.Obstacle"/>).</param>
    /// <param name="options">Goal, size, steps and the machine's limits.</param>
    /// <returns>As <see cref="Plan(Reading, NextCardOptions)"/>.</returns>
    /// <exception cref="ArgumentNullException">An argument is null.</exception>
    /// <exception cref="ArgumentOutOfRangeException">An option is out of its range.</exception>
    public static Outcome<NextRanges> Plan(Reading reading, ValueList<Reading> earlier, NextCardOptions options)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(earlier);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();

        if (reading.Plan.IsPrinted) return NextCardMessages.NoBasis("strip");
        if (reading.Plan.Kind == CardKind.FocusLadder) return NextCardMessages.NoBasis("ladder");
        if (BurnedCards.Of(reading, earlier, options.Scoring) is not { } cards) return NextCardMessages.NoBasis("no-cells");
        if (ShiftedCard.DirectionOf(cards, options) is { } direction) return ShiftedCard.Plan(cards, direction, options);
        if (Question.Of(cards.Newest, options) is not { } question)
            return cards.Newest.Advice is [var advice, ..] ? NextCardMessages.NoBasis(advice) : NextCardMessages.NoBasis("no-setting");
        return CentredCard.Plan(cards, question, options);
    }
}
