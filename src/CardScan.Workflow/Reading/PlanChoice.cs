using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

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
    /// <param name="number">The number.</param>
    /// <param name="place">The archive; null where none is used.</param>
    public static Outcome<ChosenPlan> ByNumber(int number, ArchivePlace? place)
    {
        if (place is null) return Refusal.OfInput(Codes.PlanNotGiven, ("number", number));
        return place.Use<ChosenPlan>(archive =>
        {
            Outcome<ValueList<CardEntry>> cards = archive.OpenCards(number);
            if (cards.IsRefused) return cards.Refusal!;
            if (cards.Value.Count == 0) return Unknown(archive, number, place);
            Outcome<byte[]> json = archive.PlanJson(cards.Value[0].Id);
            if (json.IsRefused) return json.Refusal!;
            Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
            return plan.IsRefused ? plan.Refusal! : new ChosenPlan(plan.Value, json.Value, Doubts(cards.Value));
        }, mayMake: true);
    }

    private static Refusal Unknown(CardArchive archive, int number, ArchivePlace place)
    {
        Outcome<ValueList<CardEntry>> closed = archive.Find(new ArchiveQuery { Number = number, Most = 1 });
        List<(string, Figure)> values = [("number", number), ("archive", place.Name)];
        if (closed is { IsRefused: false, Value: [var card] }) values.Add(("closed", card.Name));
        return Refusal.OfInput(Codes.CardUnknown, values);
    }

    private static Outcome<byte[]> OfCard(CardArchive archive, string name)
    {
        Outcome<ArchiveSubject> subject = archive.Resolve(name);
        if (subject.IsRefused) return subject.Refusal!;
        return subject.Value.CardId is { } id ? archive.PlanJson(id) : Refusal.OfInput(Codes.ArchiveNoCard, ("name", name));
    }

    /// <summary>A name that no plan file has: <c>c5</c> or a number.</summary>
    private static bool IsCardName(string name) => name.TrimStart('c', 'C') is { Length: > 0 } digits && digits.All(char.IsAsciiDigit);

    private static ValueList<Warning> Doubts(ValueList<CardEntry> cards)
    {
        if (cards.Count == 1) return [];
        (CardEntry taken, CardEntry other) = (cards[0], cards[1]);
        return [new(Codes.CardAmbiguous, ("count", cards.Count), ("number", taken.Number), ("taken", Named(taken)),
            ("others", List(cards.Skip(1).Select(card => (Figure)Named(card)))), ("other", other.Name))];
    }

    private static Phrase Named(CardEntry card)
    {
        List<(string, Figure)> values = [("name", card.Name), ("material", card.Material), ("day", $"{card.KeptUtc:yyyy-MM-dd}")];
        if (card.Batch is { } batch) values.Add(("batch", batch));
        return new Phrase("workflow.card", values);
    }
}
