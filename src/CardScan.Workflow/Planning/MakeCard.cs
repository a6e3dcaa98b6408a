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

    /// <summary>True to take the archive's next free number instead of the plan's.</summary>
    public bool TakesFreeNumber { get; init; }

    /// <summary>True to make the cells of a first card smaller where they would take long to burn.</summary>
    public bool MayShrinkCells { get; init; }

    /// <summary>Stands for a folder named after the card's number.</summary>
    public const string FolderOfCard = Workflow.OutputFolder.OfAnyCard;

    /// <summary>
    /// Folder for the files, made where it is missing; <see cref="FolderOfCard"/> in it stands for a name after the
    /// card.
    /// </summary>
    public string OutputFolder { get; init; } = FolderOfCard;

    /// <summary>The archive that knows the free numbers and keeps the plan; null uses none.</summary>
    public ArchivePlace? Archive { get; init; }

    /// <summary>Told what was planned before any file is written: the place for cautions.</summary>
    public Action<PlannedCard>? BeforeWriting { get; init; }
}

/// <summary>A card that is planned; nothing of it is written yet.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Hints">What to look at again.</param>
public sealed record PlannedCard(Plan Plan, BurnEstimate Estimate, ValueList<Advice> Hints)
{
    /// <summary>What whoever burns it must have read, one sentence each.</summary>
    public required ValueList<string> Cautions { get; init; }

    /// <summary>Why there is no machine file; null where there is one.</summary>
    public Refusal? WithoutMachineFile { get; init; }
}

/// <summary>What planning a card left.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Files">Paths of the files written.</param>
public sealed record MadeCard(Plan Plan, BurnEstimate Estimate, ValueList<string> Files)
{
    /// <summary>Scale at which an ordinary phone sees the card, px/mm.</summary>
    public double PhotoPxPerMm => CardPlanner.PhotoPxPerMm(Plan.Card);

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
    private const string PlanName = "plan.json";

    private const string DrawingName = "card.svg", PreviewName = "preview.png", MachineFileName = "card.gcode", FrameName = "frame.pdf";

    private static readonly string[] OtherNames = [DrawingName, PreviewName, MachineFileName, FrameName];

    /// <summary>
    /// Plans a card, writes <c>plan.json</c>, <c>card.svg</c>, <c>preview.png</c>, the printed <c>frame.pdf</c> where one is
    /// asked for, and <c>card.gcode</c> where the machine is known well enough, and keeps the plan.
    /// </summary>
    /// <param name="request">What is asked.</param>
    /// <returns>
    /// The plan and its files, or why there are none; another plan in the folder is never replaced. An archive that
    /// cannot keep a plan of a given number is told in <see cref="MadeCard.Kept"/>.
    /// </returns>
    public static Outcome<MadeCard> Run(CardRequest request)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<Start?> start = StartOf(request);
        if (start.IsRefused) return start.Refusal!;
        if (start.Value is not { } chosen) return Begin(request);
        PlanRequest plan = request.Plan with { Settings = chosen.Settings, Start = chosen.Energy };
        return Begin(request with { Plan = request.MayShrinkCells ? Shrunk(plan) : plan });
    }

    /// <summary>The largest cells that do not take long, or else the smallest that are still easy to read.</summary>
    private static PlanRequest Shrunk(PlanRequest plan)
    {
        double[] sides = plan.Process == Process.Cut ? [plan.CellSideMm, 6] : [plan.CellSideMm, 6, 5];
        PlanRequest[] choices = [.. sides.Select(side => plan with { CellSideMm = side })];
        return choices.FirstOrDefault(choice => CardPlanner.MakePlan(choice) is not { IsRefused: false, Value: var made }
            || !CardPlanner.Estimate(made).IsLong) ?? choices[^1];
    }

    /// <summary>The settings of a first card where power or speed is left open: from the archive's cards, else from the table.</summary>
    private static Outcome<Start?> StartOf(CardRequest request)
    {
        PlanRequest plan = request.Plan;
        if (plan.Kind == CardKind.FocusLadder || (IsGiven(Setting.PowerPercent) && IsGiven(Setting.SpeedMmPerMin))) return (Start?)null;
        // Nobody is to be led to a better name of something that must not be burned.
        if (CardPlanner.DangerOf(plan.Material.Name, plan.AcceptedRisk) is { } danger) return danger;
        Outcome<Start> start = CardPlanner.StartFor(new()
        {
            Process = plan.Process,
            Material = plan.Material,
            Machine = plan.Machine,
            Given = plan.Settings,
            Known = request.Archive is { } place ? KnownEnergy.Find(place, plan.Material, plan.Machine, plan.Process) : null,
        });
        return start.IsRefused ? start.Refusal! : start.Value;

        bool IsGiven(Setting setting) => plan.Settings.Any(range => range.Setting == setting);
    }

    private static Outcome<MadeCard> Begin(CardRequest request)
    {
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
        string folder = OutputFolder.OfCard(request.OutputFolder, plan.Number);
        NewFile json = new(PlanName, JsonOf(plan));
        if (FirstObstacle(folder, json.Bytes) is { } obstacle) return obstacle;

        (List<NewFile> drawn, Refusal? withoutMachineFile) = Drawn(plan);
        drawn.Insert(0, json);
        BurnEstimate estimate = CardPlanner.Estimate(plan);
        PlannedCard told = new(plan, estimate, CardPlanner.HintsFor(plan))
        {
            Cautions = Cautions.For(plan.Machine), WithoutMachineFile = withoutMachineFile,
        };
        request.BeforeWriting?.Invoke(told);
        Outcome<ValueList<string>> files = OutputFolder.Write(folder, drawn);
        return files.IsRefused ? files.Refusal! : new MadeCard(plan, estimate, files.Value) { Planned = told };
    }

    /// <summary>What is burned, or drawn to be burned, tells everything in the units of the plan.</summary>
    private static (List<NewFile> Files, Refusal? WithoutMachineFile) Drawn(Plan plan)
    {
        using IDisposable told = Voice.WriteFiles();
        List<NewFile> drawn =
            [NewFile.OfText(DrawingName, CardPlanner.DrawSvg(plan)), new(PreviewName, CardPlanner.PaintPreview(plan))];
        if (plan.Frame is not null) drawn.Add(new(FrameName, CardPlanner.PrintFrame(plan)));
        Outcome<string> machineFile = CardPlanner.WriteMachineFile(plan);
        if (!machineFile.IsRefused) drawn.Add(NewFile.OfText(MachineFileName, machineFile.Value));
        return (drawn, machineFile.Refusal);
    }

    private static byte[] JsonOf(Plan plan) => Encoding.UTF8.GetBytes(CardJson.Write(plan));

    private static ValueList<Warning> Doubts(KeptCard card, ValueList<CardEntry> open)
    {
        return open.FirstOrDefault(other => other.Id != card.Id) is { } other
            ? [new(Codes.NumberTaken, ("number", card.Number), ("other", other.Name), ("material", other.Material))]
            : [];
    }

    /// <summary>A plan belongs to a card that may be burned already: losing it would make that card unreadable.</summary>
    private static Refusal? FirstObstacle(string folder, byte[] json)
    {
        if (OutputFolder.NameFault(folder) is { } fault) return fault;
        string plan = Path.Combine(folder, PlanName);
        if (!Path.Exists(plan))
        {
            return OtherNames.Select(name => Path.Combine(folder, name)).FirstOrDefault(Path.Exists) is { } foreign
                ? Refusal.OfInput(Codes.OutForeign, ("kind", "plan"), ("path", foreign))
                : null;
        }

        Outcome<byte[]> old = InputFile.ReadBytes(plan, "plan");
        return !old.IsRefused && old.Value.AsSpan().SequenceEqual(json)
            ? null
            : Refusal.OfInput(Codes.PlanExists, ("path", plan));
    }
}
