using CardScan.Model;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next;

/// <summary>The cards of one material that were burned so far, scored.</summary>
/// <param name="Newest">The newest, scored together with the others.</param>
/// <param name="All">Each card, the newest first; the others scored by themselves, so that their outliers are flagged.</param>
/// <param name="Burned">Powers and speeds of all of them.</param>
/// <param name="End">A known far end of the dose.</param>
internal sealed record BurnedCards(Reading Newest, IReadOnlyList<Reading> All, BurnedRange Burned, FarEnd End)
{
    /// <summary>Null where no cell has a power and a speed.</summary>
    public static BurnedCards? Of(Reading reading, ValueList<Reading> earlier, ScoringOptions options)
    {
        Reading newest = CardScorer.Score(reading, earlier, options);
        Reading[] all = [newest, .. earlier.Select(card => CardScorer.Score(card, options))];
        return BurnedRange.Of(all.SelectMany(card => card.Cells)) is { } burned ? new(newest, all, burned, FarEnd.Of(all)) : null;
    }

    /// <summary>What the cards tell of the law about a setting; null where nothing orders their cells.</summary>
    public CardKnowledge? KnowledgeAbout(CellSettings about, NextCardOptions options) => Newest.Plan.Process == Process.Cut
        ? CutKnowledge.Of(All, about, End)
        : MarkKnowledge.Of(All, about, End, options.Scoring.FullMarkShare);
}
