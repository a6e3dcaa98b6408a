using System.Text.Json.Nodes;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>A card that was planned, for other programs: docs/formats.md, "Output for programs".</summary>
internal static class PlanJson
{
    public static JsonObject Of(MadeCard made)
    {
        Plan plan = made.Plan;
        CellEstimate most = made.Estimate.MostEnergy;
        IEnumerable<JsonObject> warnings = [.. made.Planned.Hints.Select(JsonText.Of), .. made.Doubts.Select(JsonText.Of)];
        if (made.Planned.WithoutMachineFile is { } missing) warnings = warnings.Append(JsonText.Of(missing));
        return JsonText.Without(new()
        {
            ["number"] = plan.Number,
            ["card"] = made.Kept is { IsRefused: false, Value: var kept } ? kept.Name : null,
            ["title"] = plan.Title,
            ["process"] = plan.Process == Process.Cut ? "cut" : "engrave",
            ["material"] = plan.Material.Name,
            ["machine"] = plan.Machine.Name,
            ["columns"] = Of(plan.Columns),
            ["rows"] = Of(plan.Rows),
            ["widthMm"] = plan.Card.WidthMm,
            ["heightMm"] = plan.Card.HeightMm,
            ["photoPxPerMm"] = Math.Round(made.Planned.PhotoPxPerMm, 2),
            ["burnSeconds"] = Math.Round(made.Estimate.Seconds, 1),
            ["burnJoules"] = Math.Round(made.Estimate.Joules, 1),
            ["mostEnergy"] = new JsonObject
            {
                ["row"] = most.Row, ["column"] = most.Column,
                ["seconds"] = Math.Round(most.Seconds, 1), ["joules"] = Math.Round(most.Joules, 1),
            },
            ["mark"] = plan.Burning?.Marks is { } marks
                ? new JsonObject { ["powerPercent"] = marks.PowerPercent, ["speedMmPerMin"] = marks.SpeedMmPerMin }
                : null,
            ["files"] = JsonText.List(made.Files),
            ["cautions"] = JsonText.List(made.Planned.Cautions),
            ["acceptedRisk"] = plan.AcceptedRisk,
            ["warnings"] = JsonText.List(warnings),
        });
    }

    public static JsonObject Of(NextCardMade made)
    {
        JsonObject card = Of(made.Card);
        card["after"] = made.After;
        card["joined"] = JsonText.List(made.Joined.Select(other => (double)other.Number));
        card["doubts"] = JsonText.List(made.Doubts.Select(JsonText.Of));
        card["notes"] = JsonText.List(made.Ranges.Notes.Select(JsonText.Of));
        return card;
    }

    private static JsonObject Of(Axis axis) =>
        new() { ["setting"] = PlanRules.NameOf(axis.Setting), ["values"] = JsonText.List(axis.Values) };
}
