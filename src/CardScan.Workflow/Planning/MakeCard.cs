using System.Text;
using CardScan.Language;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>A card to be planned.</summary>
public sealed record CardRequest
{
    /// <summary>What is asked of the card.</summary>
    public required PlanRequest Plan { get; init; }

    /// <summary>
    /// True for a card that was planned by a burned one: what the material needs is known from there, and better than by its name.
    /// </summary>
    public bool IsByBurnedCard { get; init; }

    /// <summary>True to take the archive's next free number instead of the plan's.</summary>
    public bool TakesFreeNumber { get; init; }

    /// <summary>True to make the cells of a first card smaller where they would take long to burn.</summary>
    public bool MayShrinkCells { get; init; }

    /// <summary>
    /// True to choose cells, gaps and markers, and fewer speeds of a first card, so that they fit on a card of given size.
    /// </summary>
    public bool MayFitToCard { get; init; }

    /// <summary>Stands for a folder named after the card's number.</summary>
    public const string FolderOfCard = Workflow.OutputFolder.OfAnyCard;

    /// <summary>
    /// Folder for the files, made where it is missing; <see cref="FolderOfCard"/> in it stands for a name after the
    /// card. Null writes none: <see cref="CardDownloads"/> makes them of the kept plan.
    /// </summary>
    public string? OutputFolder { get; init; } = FolderOfCard;

    /// <summary>What is written beside the plan, where it is not the usual.</summary>
    public CardExtras Extras { get; init; } = new();

    /// <summary>The archive that knows the free numbers and keeps the plan; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>Told what was planned before any file is written: the place for cautions.</summary>
    public Action<PlannedCard>? BeforeWriting { get; init; }
}

/// <summary>What planning a card left.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Files">Paths of the files written; a folder of drawings counts as one.</param>
public sealed record MadeCard(Plan Plan, BurnEstimate Estimate, ValueList<string> Files)
{
    /// <summary>What whoever burns it was told before.</summary>
    public required PlannedCard Planned { get; init; }

    /// <summary>What the archive made of it; null where none is used.</summary>
    public Outcome<KeptCard>? Kept { get; init; }

    /// <summary>What is doubtful about the number.</summary>
    public ValueList<Warning> Doubts { get; init; } = [];
}

/// <summary>A request to everything that is needed to burn a card.</summary>
public static class MakeCard
{
    /// <summary>
    /// Plans a card, writes <c>plan.json</c>, <c>card.svg</c> with its <c>settings.csv</c> and <c>settings.html</c>,
    /// <c>preview.png</c>, the printed <c>frame.pdf</c> and a folder of drawings where they are asked for, and <c>card.gcode</c> with
    /// its dry run <c>outline.gcode</c> where the machine is known well enough, and keeps the plan.
    /// </summary>
    /// <param name="request">What is asked.</param>
    /// <returns>
    /// The plan and its files, or why there are none; another plan in the folder is never replaced. An archive that
    /// cannot keep a plan of a given number is told in <see cref="MadeCard.Kept"/>.
    /// </returns>
    public static Outcome<MadeCard> Run(CardRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<PlanRequest> plan = FirstCard.Of(request);
        return plan.IsRefused ? plan.Refusal! : Begin(request with { Plan = plan.Value });
    }

    /// <summary>Plans a card and keeps nothing of it: what <see cref="Run"/> would make of the same request now.</summary>
    /// <param name="request">What is asked; a folder means nothing here.</param>
    public static Outcome<PlannedCard> Preview(CardRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<PlanRequest> asked = FirstCard.Of(request);
        if (asked.IsRefused) return asked.Refusal!;
        // An archive that is not there yet has given no number.
        Outcome<int> free = request is { TakesFreeNumber: true, Archive: { } place } ? place.Use(archive => archive.FreeNumber()) : 0;
        if (free.Refusal is { Code: not Codes.ArchiveMissing } fault) return fault;
        int number = request.TakesFreeNumber ? free.IsRefused ? 0 : free.Value : asked.Value.Number;
        Outcome<Plan> plan = CardPlanner.MakePlan(asked.Value with { Number = number });
        return plan.IsRefused
            ? plan.Refusal!
            : PlannedCard.Of(plan.Value, request.IsByBurnedCard, CardPlanner.MachineFileFault(plan.Value));
    }

    private static Outcome<MadeCard> Begin(CardRequest request)
    {
        if (request is { TakesFreeNumber: true, Archive: { } numbers })
        {
            Outcome<(MadeCard Made, Outcome<KeptCard> Kept)> numbered = FreeNumber.For(
                numbers, number => CardPlanner.MakePlan(request.Plan with { Number = number }), plan => Make(request, plan));
            return numbered.IsRefused ? numbered.Refusal! : numbered.Value.Made with { Kept = numbered.Value.Kept };
        }

        Outcome<Plan> planned = CardPlanner.MakePlan(request.Plan);
        Outcome<MadeCard> made = planned.IsRefused ? planned.Refusal! : Make(request, planned.Value);
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

    private static Outcome<MadeCard> Make(CardRequest request, Plan plan)
    {
        if (request.OutputFolder is not { } output) return Told(plan, request, CardPlanner.MachineFileFault(plan));
        string folder = OutputFolder.OfCard(output, plan.Number);
        byte[] json = JsonOf(plan);
        if (CardFiles.FirstObstacle(folder, json) is { } obstacle) return obstacle;
        Outcome<CardFiles> drawn = CardFiles.Of(plan, request.Extras);
        if (drawn.IsRefused) return drawn.Refusal!;

        MadeCard made = Told(plan, request, drawn.Value.WithoutMachineFile);
        Outcome<ValueList<string>> files = drawn.Value.Write(folder, json);
        return files.IsRefused ? files.Refusal! : made with { Files = files.Value };
    }

    private static MadeCard Told(Plan plan, CardRequest request, Refusal? withoutMachineFile)
    {
        PlannedCard told = PlannedCard.Of(plan, request.IsByBurnedCard, withoutMachineFile);
        request.BeforeWriting?.Invoke(told);
        return new(plan, told.Estimate, []) { Planned = told };
    }

    /// <summary>The bytes of a plan's file.</summary>
    internal static byte[] JsonOf(Plan plan) => Encoding.UTF8.GetBytes(CardJson.Write(plan));

    private static ValueList<Warning> Doubts(KeptCard card, ValueList<CardEntry> open)
    {
        return open.FirstOrDefault(other => other.Id != card.Id) is { } other
            ? [new(Codes.NumberTaken, ("number", card.Number), ("other", other.Name), ("material", other.Material))]
            : [];
    }
}
