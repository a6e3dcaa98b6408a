using System.Text;
using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow;

/// <summary>What planning a card left.</summary>
/// <param name="Plan">The plan.</param>
/// <param name="Files">Paths of the files written.</param>
public sealed record MadeCard(Plan Plan, ValueList<string> Files);

/// <summary>A request to plan and drawing.</summary>
public static class MakeCard
{
    /// <summary>Plans a card and writes <c>plan.json</c> and <c>card.svg</c>.</summary>
    /// <param name="request">What is asked.</param>
    /// <param name="outputFolder">Folder for the files; made where it is missing.</param>
    /// <returns>The plan and its files, or why there are none; another plan in the folder is never replaced.</returns>
    public static Outcome<MadeCard> Run(PlanRequest request, string outputFolder)
    {
        ArgumentNullException.ThrowIfNull(request);
        Outcome<Plan> plan = CardPlanner.MakePlan(request);
        if (plan.IsRefused) return plan.Refusal!;

        string json = CardJson.Write(plan.Value);
        if (FirstObstacle(outputFolder, json) is { } obstacle) return obstacle;
        Outcome<ValueList<string>> files = OutputFolder.Write(outputFolder, [NewFile.OfText(PlanName, json), NewFile.OfText(DrawingName, CardPlanner.DrawSvg(plan.Value))]);
        return files.IsRefused ? files.Refusal! : new MadeCard(plan.Value, files.Value);
    }

    /// <summary>A plan belongs to a card that may be burned already: losing it would make that card unreadable.</summary>
    private static Refusal? FirstObstacle(string folder, string json)
    {
        if (OutputFolder.NameFault(folder) is { } fault) return fault;
        string plan = Path.Combine(folder, PlanName), drawing = Path.Combine(folder, DrawingName);
        if (!Path.Exists(plan))
        {
            return Path.Exists(drawing)
                ? Refusal.OfInput("out-foreign", $"{drawing} is there already and belongs to no plan", "give another folder with --out, or move the file away")
                : null;
        }

        Outcome<byte[]> old = InputFile.ReadBytes(plan, "plan");
        return !old.IsRefused && old.Value.AsSpan().SequenceEqual(Encoding.UTF8.GetBytes(json))
            ? null
            : Refusal.OfInput("plan-exists", $"{plan} holds another plan", "give another --number or another folder with --out, or move the old plan away if no card was burned from it");
    }

    private const string PlanName = "plan.json", DrawingName = "card.svg";
}
