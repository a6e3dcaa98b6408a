using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Checks the bare numbers of a request, so that messages name the option that gave them.</summary>
internal static class RequestCheck
{
    private const double LargestCardMm = 2000;

    internal static Refusal? FirstFault(PlanRequest request) =>
        Range("--number", request.Number, 0, 249, "")
        ?? Range("--cell", request.CellSideMm, request.Kind == CardKind.FocusLadder ? 10 : 4, 50, " mm")
        ?? Range("--tabs", request.TabsPerSide, 0, request.Process == Process.Cut ? 3 : 0, ", and only for a cut card")
        ?? Framed(request)
        ?? Range("--tab-length", request.TabMm, 0.2, 2, " mm")
        ?? Mark(request.Mark)
        ?? MachineRules.Faults(request.Machine).Where(fault => !fault.StartsWith("ratedOpticalWatts", StringComparison.Ordinal))
            .Select(fault => Refusal.OfInput("plan-value", $"the machine's {fault}", "correct the machine's profile or the option that gave it")).FirstOrDefault()
        ?? Range("--gap", request.GapMm, 6, 50, " mm, since the light is judged on the bare strips")
        ?? Range("--marker", request.MarkerSideMm, 10, 15, " mm")
        ?? Positive("--watts", request.Machine.RatedOpticalWatts, 100_000, " W, the optical power that leaves the lens")
        ?? Positive("--thickness", request.Material.ThicknessMm ?? 1, 1000, " mm")
        ?? Positive("--card", request.Card?.WidthMm ?? 1, LargestCardMm, " mm")
        ?? Positive("--card", request.Card?.HeightMm ?? 1, LargestCardMm, " mm")
        ?? Text("--material", request.Material.Name)
        ?? Text("--machine", request.Machine.Name);

    /// <summary>A paper frame keeps a lamp's light from a cut card's rim, and lines a few tenths wide do not tell where their grid lies in a window.</summary>
    private static Refusal? Framed(PlanRequest request) => request is { Frame: not null, Process: Process.Cut } or { Frame: not null, Kind: CardKind.FocusLadder }
        ? Refusal.OfInput("plan-value", $"--frame is given for a {(request.Process == Process.Cut ? "cut card" : "focus ladder")}", "leave --frame out, and burn the markers; a frame goes around filled cells only")
        : null;

    private static Refusal? Mark(MarkSetting? mark) => mark is null ? null
        : Setting("--mark-power", Model.Setting.PowerPercent, mark.PowerPercent)
        ?? Setting("--mark-speed", Model.Setting.SpeedMmPerMin, mark.SpeedMmPerMin);

    private static Refusal? Setting(string option, Setting setting, double value) =>
        PlanRules.RangeFault(setting, value) is { } expected ? Refusal.OfInput("plan-value", $"{option} has {value}", $"give {expected}") : null;

    private static Refusal? Range(string option, double value, double least, double most, string unit) =>
        value >= least && value <= most ? null : Refusal.OfInput("plan-value", $"{option} has {value}", $"give {least} to {most}{unit}");

    private static Refusal? Positive(string option, double value, double most, string unit) =>
        value > 0 && value <= most ? null : Refusal.OfInput("plan-value", $"{option} has {value}", $"give more than 0, at most {most}{unit}");

    private static Refusal? Text(string option, string text) =>
        string.IsNullOrWhiteSpace(text) ? Refusal.OfInput("plan-value", $"{option} is empty", "give a name") : null;
}
