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
    public static Outcome<NextRanges> Plan(Reading reading, NextCardOptions options)
    {
        ArgumentNullException.ThrowIfNull(reading);
        ArgumentNullException.ThrowIfNull(options);
        options.Check();

        if (reading.Plan.Kind == CardKind.FocusLadder) return NextWords.NoBasis("a focus ladder tells where the focus is, and not which power and speed");
        Reading scored = CardScorer.Score(reading, options.Scoring);
        if (BurnedRange.Of(scored) is not { } burned) return NextWords.NoBasis("no cell has a power and a speed");
        if (ShiftedCard.DirectionOf(scored, burned, options.Scoring.FullMarkShare) is { } direction) return ShiftedCard.Plan(scored, burned, direction, options);
        if (Question.Of(scored, options) is not { } question)
            return NextWords.NoBasis(scored.Advice.Count > 0 ? scored.Advice[0].Message : "no setting could be recommended");
        return CentredCard.Plan(scored, burned, question, options);
    }
}
