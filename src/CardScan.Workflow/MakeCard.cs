using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>A card that is planned; nothing of it is written yet.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Hints">What to look at again, and why there is no machine file where there is none.</param>
public sealed record PlannedCard(Plan Plan, BurnEstimate Estimate, ValueList<Advice> Hints);

/// <summary>What planning a card left.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Estimate">Time and energy.</param>
/// <param name="Files">Paths of the files written.</param>
public sealed record MadeCard(Plan Plan, BurnEstimate Estimate, ValueList<string> Files);

/// <summary>A request to everything that is needed to burn a card.</summary>
public static class MakeCard
{
    private const string PlanName = "plan.json";

    private const string DrawingName = "card.svg", PreviewName = "preview.png", MachineFileName = "card.gcode", FrameName = "frame.pdf";

    private static readonly string[] OtherNames = [DrawingName, PreviewName, MachineFileName, FrameName];

    /// <summary>Plans a card and writes <c>plan.json</c>, <c>card.svg</c>, <c>preview.png</c>, the printed <c>frame.pdf</c> where one is asked for, and <c>card.gcode</c> where the machine is known well enough.</summary>
    /// <param name="request">What is asked.</param>
    /// <param name="outputFolder">Folder for the files; made where it is missing.</param>
    /// <param name="beforeWriting">Told what was planned before any file is written: the place for cautions.</param>
    /// <returns>The plan and its files, or why there are none; another plan in the folder is never replaced.</returns>
    public static Outcome<MadeCard> Run(PlanRequest request, string outputFolder, Action<PlannedCard>? beforeWriting = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<Plan> planned = CardPlanner.MakePlan(request);
        if (planned.IsRefused) return planned.Refusal!;

        Plan plan = planned.Value;
        NewFile json = NewFile.OfText(PlanName, CardJson.Write(plan));
        if (FirstObstacle(outputFolder, json.Bytes) is { } obstacle) return obstacle;

        List<NewFile> drawn = [json, NewFile.OfText(DrawingName, CardPlanner.DrawSvg(plan)), new(PreviewName, CardPlanner.PaintPreview(plan))];
        if (plan.Frame is not null) drawn.Add(new(FrameName, CardPlanner.PrintFrame(plan)));
        ValueList<Advice> hints = CardPlanner.HintsFor(plan);
        Outcome<string> machineFile = CardPlanner.WriteMachineFile(plan);
        if (machineFile.Refusal is { } missing) hints = [.. hints, new(missing.Code, missing.ToString())];
        else drawn.Add(NewFile.OfText(MachineFileName, machineFile.Value));

        BurnEstimate estimate = CardPlanner.Estimate(plan);
        beforeWriting?.Invoke(new(plan, estimate, hints));
        Outcome<ValueList<string>> files = OutputFolder.Write(outputFolder, drawn);
        return files.IsRefused ? files.Refusal! : new MadeCard(plan, estimate, files.Value);
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
