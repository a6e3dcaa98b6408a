using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>The plan that photos are read with.</summary>
/// <param name="File">The plan.</param>
/// <param name="Json">The bytes of its file.</param>
/// <param name="Doubts">What is doubtful about the choice.</param>
internal sealed record ChosenPlan(PlanFile File, byte[] Json, ValueList<Warning> Doubts);

/// <summary>Finds the plan: the one that was named, or the one of the card number in the photo.</summary>
internal static class PlanChoice
{
    /// <summary>A plan that a person named: a file, or a card of the archive.</summary>
    public static Outcome<ChosenPlan> Named(string name, ArchivePlace? place)
    {
        bool mayBeCard = place is not null && !string.IsNullOrWhiteSpace(name) && !Path.Exists(name) && IsCardName(name);
        Outcome<byte[]> json = mayBeCard ? place!.Use(archive => OfCard(archive, name)) : InputFile.ReadBytes(name, "plan");
        if (json.IsRefused) return json.Refusal!;
        Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
        return plan.IsRefused ? plan.Refusal!.In(name) : new ChosenPlan(plan.Value, json.Value, []);
    }

    /// <summary>The plan of the newest open card with the number that a photo shows.</summary>
    /// <param name="numbers">The numbers seen, the likeliest first.</param>
    /// <param name="place">The archive; null where none is used.</param>
    public static Outcome<ChosenPlan> ByNumber(ValueList<int> numbers, ArchivePlace? place)
    {
        if (place is null) return Refusal.OfInput("plan-not-given", $"the photo shows card {numbers[0]}, and no archive is used that could have its plan", "give the plan with --plan");
        return place.Use<ChosenPlan>(archive =>
        {
            foreach (int number in numbers)
            {
                Outcome<ValueList<CardEntry>> cards = archive.OpenCards(number);
                if (cards.IsRefused) return cards.Refusal!;
                if (cards.Value.Count == 0) continue;
                Outcome<byte[]> json = archive.PlanJson(cards.Value[0].Id);
                if (json.IsRefused) return json.Refusal!;
                Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
                return plan.IsRefused ? plan.Refusal! : new ChosenPlan(plan.Value, json.Value, Doubts(cards.Value));
            }

            Outcome<ValueList<CardEntry>> closed = archive.Find(new ArchiveQuery { Number = numbers[0], Most = 1 });
            string reopen = !closed.IsRefused && closed.Value is [var card] ? $", or open its closed card again: cardscan archive close {card.Name} --again" : "";
            return Refusal.OfInput("card-unknown", $"the photo shows card {numbers[0]}, and the archive at {place.Folder} has no open card with that number", $"give the plan that the card was burned from with --plan{reopen}");
        }, mayMake: true);
    }

    private static Outcome<byte[]> OfCard(CardArchive archive, string name)
    {
        Outcome<ArchiveSubject> subject = archive.Resolve(name);
        if (subject.IsRefused) return subject.Refusal!;
        return subject.Value.CardId is { } id ? archive.PlanJson(id) : Refusal.OfInput("archive-no-card", $"\"{name}\" is no card", "name a card: c5, or its number");
    }

    /// <summary>A name that no plan file has: <c>c5</c> or a number.</summary>
    private static bool IsCardName(string name) => name.TrimStart('c', 'C') is { Length: > 0 } digits && digits.All(char.IsAsciiDigit);

    private static ValueList<Warning> Doubts(ValueList<CardEntry> cards)
    {
        if (cards.Count == 1) return [];
        CardEntry taken = cards[0];
        string others = string.Join(", ", cards.Skip(1).Select(Words));
        return [new("card-ambiguous", $"{cards.Count} open cards have the number {taken.Number}; the newest was taken, {Words(taken)}. The others: {others}. Choose with --plan {cards[1].Name}, or close what is done with: cardscan archive close {cards[1].Name}")];
    }

    private static string Words(CardEntry card) => $"{card.Name} ({card.Material}{(card.Batch is { } batch ? $", {batch}" : "")}, planned {card.KeptUtc:yyyy-MM-dd})";
}
