using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Finds the earlier cards in the archive that a reading is scored with.</summary>
internal static class CompanyFinder
{
    /// <summary>
    /// Cards that are looked at: some of those that the archive takes for alike differ in what only their readings tell, focus
    /// and line interval.
    /// </summary>
    private const int MostLookedAt = 4 * Company.MostCards;

    /// <summary>The newest readings of the archive's cards that are like a reading's.</summary>
    /// <param name="reading">The reading.</param>
    /// <param name="place">The archive. One that cannot be used costs the company and nothing else.</param>
    /// <param name="beforeReading">Only cards that were read before the reading of this id; null for all.</param>
    /// <param name="justRead">Cards that were read in the same run, newest first: they come before the archive's.</param>
    public static Company Of(Reading reading, ArchivePlace place, long? beforeReading = null, IReadOnlyList<Reading>? justRead = null)
    {
        if (reading.Plan.Kind is CardKind.FocusLadder or CardKind.GreyStrip) return Company.None;
        Company company = (justRead ?? []).Aggregate(Company.None, (all, other) => With(all, reading, new(other, null)));
        Outcome<Company> found = place.Use<Company>(archive => Kept(archive, reading, company, beforeReading));
        return found.Refusal switch
        {
            null => found.Value,
            { Code: Codes.ArchiveMissing } => company,
            { } refusal => company with { Doubts = [new(Codes.EarlierUnread, ("refusal", refusal.ToString()))] },
        };
    }

    private static Outcome<Company> Kept(CardArchive archive, Reading reading, Company company, long? beforeReading)
    {
        Outcome<ValueList<LikeCard>> like = archive.CardsLike(reading.Plan, beforeReading, MostLookedAt);
        if (like.IsRefused) return like.Refusal!;
        foreach (LikeCard card in like.Value)
        {
            if (company.Cards.Count == Company.MostCards) break;
            Outcome<Reading> kept = archive.Reading(card.ReadingId);
            company = kept.IsRefused
                ? company with { Doubts = [.. company.Doubts, Unread(card, kept.Refusal!)] }
                : With(company, reading, new(kept.Value, card.FirstReadUtc));
        }

        return company;
    }

    private static Company With(Company company, Reading own, EarlierCard card) =>
        company.Takes(own, card.Reading) ? company with { Cards = [.. company.Cards, card] } : company;

    private static Warning Unread(LikeCard card, Refusal refusal) => new(Codes.EarlierUnread,
        ("reading", card.ReadingName), ("number", card.Number), ("refusal", refusal.ToString()));
}
