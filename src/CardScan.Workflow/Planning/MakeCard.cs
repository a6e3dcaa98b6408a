using System.Text;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>A card to be planned.</summary>
public sealed record CardRequest
{
    /// <summary>What is asked of the card.</summary>
    public required PlanRequest Plan { get; init; }

    /// <summary>True to take the archive's next free number instead of the plan's.</summary>
    public bool TakesFreeNumber { get; init; }

    /// <summary>Folder for the files, made where it is missing; null names it after the card's number.</summary>
    public string? OutputFolder { get; init; }

    /// <summary>The archive that knows the free numbers and keeps the plan; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>Told what was planned before any file is written: the place for cautions.</summary>
    public Action<PlannedCard>? BeforeWriting { get; init; }
}

/// <summary>A card that is planned; nothing of it is written yet.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Hints">What to look at again, and why there is no machine file where there is none.</param>
public sealed record PlannedCard(Plan Plan, BurnEstimate Estimate, ValueList<Advice> Hints);

/// <summary>What planning a card left.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Files">Paths of the files written.</param>
public sealed record MadeCard(Plan Plan, BurnEstimate Estimate, ValueList<string> Files)
{
    /// <summary>What the archive made of it; null where none is used.</summary>
    public Outcome<KeptCard>? Kept { get; init; }

    /// <summary>What is doubtful about the number.</summary>
    public ValueList<Warning> Doubts { get; init; } = [];
}

/// <summary>A request to everything that is needed to burn a card.</summary>
public static class MakeCard
{
    private const string PlanName = "plan.json";

    private const string DrawingName = "card.svg", PreviewName = "preview.png", MachineFileName = "card.gcode", FrameName = "frame.pdf";

    private static readonly string[] OtherNames = [DrawingName, PreviewName, MachineFileName, FrameName];

    /// <summary>Plans a card, writes <c>plan.json</c>, <c>card.svg</c>, <c>preview.png</c>, the printed <c>frame.pdf</c> where one is asked for, and <c>card.gcode</c> where the machine is known well enough, and keeps the plan.</summary>
    /// <param name="request">What is asked.</param>
    /// <returns>
    /// The plan and its files, or why there are none; another plan in the folder is never replaced. An archive that
    /// cannot keep a plan of a given number is told in <see cref="MadeCard.Kept"/>.
    /// </returns>
    public static Outcome<MadeCard> Run(CardRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        if (request is { TakesFreeNumber: true, Archive: { } numbers }) return WithFreeNumber(request, numbers);

        Outcome<MadeCard> made = Make(request, request.Plan);
        if (made.IsRefused || request.Archive is not { } place) return made;
        ValueList<Warning> doubts = [];
        Outcome<KeptCard> kept = place.Use(archive =>
        {
            Outcome<KeptCard> card = archive.KeepCard(JsonOf(made.Value.Plan));
            Outcome<ValueList<CardEntry>> open = archive.OpenCards(made.Value.Plan.Number);
            if (!card.IsRefused && !open.IsRefused) doubts = Doubts(card.Value, open.Value);
            return card;
        }, mayMake: true);
        return made.Value with { Kept = kept, Doubts = doubts };
    }

    /// <summary>The files are written before the archive lets go of the number, so that no other card gets it meanwhile.</summary>
    private static Outcome<MadeCard> WithFreeNumber(CardRequest request, ArchivePlace place)
    {
        MadeCard? made = null;
        Outcome<KeptCard> kept = place.Use(archive => archive.KeepNextCard(number =>
        {
            Outcome<MadeCard> card = Make(request, request.Plan with { Number = number });
            if (card.IsRefused) return card.Refusal!;
            made = card.Value;
            return JsonOf(made.Plan);
        }), mayMake: true);
        return kept.IsRefused ? kept.Refusal! : made! with { Kept = kept };
    }

    private static Outcome<MadeCard> Make(CardRequest request, PlanRequest asked)
    {
        Outcome<Plan> planned = CardPlanner.MakePlan(asked);
        if (planned.IsRefused) return planned.Refusal!;

        Plan plan = planned.Value;
        string folder = request.OutputFolder ?? OutputFolder.OfCard(plan.Number);
        NewFile json = new(PlanName, JsonOf(plan));
        if (FirstObstacle(folder, json.Bytes) is { } obstacle) return obstacle;

        List<NewFile> drawn = [json, NewFile.OfText(DrawingName, CardPlanner.DrawSvg(plan)), new(PreviewName, CardPlanner.PaintPreview(plan))];
        if (plan.Frame is not null) drawn.Add(new(FrameName, CardPlanner.PrintFrame(plan)));
        ValueList<Advice> hints = CardPlanner.HintsFor(plan);
        Outcome<string> machineFile = CardPlanner.WriteMachineFile(plan);
        if (machineFile.Refusal is { } missing) hints = [.. hints, new(missing.Code, missing.ToString())];
        else drawn.Add(NewFile.OfText(MachineFileName, machineFile.Value));

        BurnEstimate estimate = CardPlanner.Estimate(plan);
        request.BeforeWriting?.Invoke(new(plan, estimate, hints));
        Outcome<ValueList<string>> files = OutputFolder.Write(folder, drawn);
        return files.IsRefused ? files.Refusal! : new MadeCard(plan, estimate, files.Value);
    }

    private static byte[] JsonOf(Plan plan) => Encoding.UTF8.GetBytes(CardJson.Write(plan));

    private static ValueList<Warning> Doubts(KeptCard card, ValueList<CardEntry> open)
    {
        CardEntry[] others = [.. open.Where(other => other.Id != card.Id)];
        return others.Length == 0 ? [] :
            [new("number-taken", $"The archive has another open card with the number {card.Number}: {others[0].Name} ({others[0].Material}). Photos are taken to show the newest one. Close what is done with (cardscan archive close {others[0].Name}), or leave --number out to get a free one.")];
    }

    /// <summary>A plan belongs to a card that may be burned already: losing it would make that card unreadable.</summary>
    private static Refusal? FirstObstacle(string folder, byte[] json)
    {
        if (OutputFolder.NameFault(folder) is { } fault) return fault;
        string plan = Path.Combine(folder, PlanName);
        if (!Path.Exists(plan))
        {
            return OtherNames.Select(name => Path.Combine(folder, name)).FirstOrDefault(Path.Exists) is { } foreign
                ? Refusal.OfInput("out-foreign", $"{foreign} is there already and belongs to no plan", "give another folder with --out, or move the file away")
                : null;
        }

        Outcome<byte[]> old = InputFile.ReadBytes(plan, "plan");
        return !old.IsRefused && old.Value.AsSpan().SequenceEqual(json)
            ? null
            : Refusal.OfInput("plan-exists", $"{plan} holds another plan", "give another --number or another folder with --out, or move the old plan away if no card was burned from it");
    }
}
