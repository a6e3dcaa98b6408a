using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A card under the archive's next free number.</summary>
internal static class FreeNumber
{
    /// <summary>
    /// Keeps the plan first, so that no other card gets its number, and makes the rest then, while others may write. Where that is
    /// refused or fails, the number is given back.
    /// </summary>
    /// <param name="place">The archive; one that is read-only tells the number and keeps nothing.</param>
    /// <param name="planOf">The plan of a number; the archive is locked meanwhile.</param>
    /// <param name="make">Makes everything else of the plan.</param>
    /// <returns>What was made, and what the archive made of its plan; or why there is neither.</returns>
    internal static Outcome<(T Made, Outcome<KeptCard> Kept)> For<T>(
        ArchivePlace place, Func<int, Outcome<Plan>> planOf, Func<Plan, Outcome<T>> make)
    {
        Outcome<(Plan, Outcome<KeptCard>)> reserved = Reserve(place, planOf);
        if (reserved.IsRefused) return reserved.Refusal!;
        (Plan plan, Outcome<KeptCard> kept) = reserved.Value;
        Outcome<T>? made = null;
        try
        {
            made = make(plan);
            return made.IsRefused ? made.Refusal! : (made.Value, kept);
        }
        finally
        {
            if (made is not { IsRefused: false } && kept is { IsRefused: false, Value: var card })
                place.Use(archive => archive.TakeBack(card));
        }
    }

    private static Outcome<(Plan Plan, Outcome<KeptCard> Kept)> Reserve(ArchivePlace place, Func<int, Outcome<Plan>> planOf)
    {
        Plan? plan = null;
        Outcome<KeptCard> kept = place.Use(archive => archive.KeepNextCard(number =>
        {
            Outcome<Plan> planned = planOf(number);
            if (planned.IsRefused) return planned.Refusal!;
            plan = planned.Value;
            return MakeCard.JsonOf(plan);
        }), mayMake: true);
        if (!kept.IsRefused) return (plan!, kept);
        if (kept.Refusal is not { Code: Codes.ArchiveReadOnly } readOnly) return kept.Refusal!;
        Outcome<int> free = place.Use(archive => archive.FreeNumber());
        Outcome<Plan> unkept = free.IsRefused ? free.Refusal! : planOf(free.Value);
        return unkept.IsRefused ? unkept.Refusal! : (unkept.Value, readOnly);
    }
}
