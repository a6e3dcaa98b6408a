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
    /// <param name="outputFolder">Folder for the files.</param>
    /// <exception cref="IOException">The files cannot be written.</exception>
    /// <exception cref="UnauthorizedAccessException">The files may not be written.</exception>
    public static Outcome<MadeCard> Run(PlanRequest request, string outputFolder)
    {
        Outcome<Plan> plan = CardPlanner.MakePlan(request);
        if (plan.IsRefused) return plan.Refusal!;

        string drawing = CardPlanner.DrawSvg(plan.Value);
        string place = Path.Combine(outputFolder, PlanName);
        // A plan belongs to a card that may be burned already: losing it would make that card unreadable.
        if (File.Exists(place) && File.ReadAllText(place) != CardJson.Write(plan.Value))
            return Refusal.OfInput("plan-exists", $"{place} holds another plan", "give another folder with --out, or move the old plan away");

        OutputFolder output = new(outputFolder);
        return new MadeCard(plan.Value, [output.Write(PlanName, CardJson.Write(plan.Value)), output.Write("card.svg", drawing)]);
    }

    private const string PlanName = "plan.json";
}
