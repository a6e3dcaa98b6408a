using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Checks the bare numbers of a request, so that messages name the option that gave them.</summary>
internal static class RequestCheck
{
    private const double LargestCardMm = 2000;

    internal static Refusal? FirstFault(PlanRequest request) =>
        Between("--number", request.Number, 0, Plan.Numbers - 1)
        ?? Between("--cell", request.CellSideMm, Mm(SmallestSizes.CellMm(request)), Mm(50))
        ?? (request.Process == Process.Cut
            ? Between("--tabs", request.TabsPerSide, 0, 3)
            : Between("--tabs", request.TabsPerSide, 0, 0, "tabs"))
        ?? Framed(request)
        ?? Between("--tab-length", request.TabMm, Mm(0.2), Mm(2))
        ?? Tabs(request)
        ?? Mark(request.Mark)
        ?? Passes(request)
        ?? OfMachine(request.Machine)
        ?? Between("--gap", request.GapMm, Mm(SmallestSizes.GapMm(request)), Mm(50), "gap")
        ?? Between("--marker", request.MarkerSideMm, Mm(SmallestSizes.MarkerMm(request)), Mm(15))
        ?? Positive("--watts", request.Machine.RatedOpticalWatts, In(Unit.Watts, 100_000), "watts")
        ?? Positive("--thickness", request.Material.ThicknessMm ?? 1, Mm(1000))
        ?? Positive("--card", request.Card?.WidthMm ?? 1, Mm(LargestCardMm))
        ?? Positive("--card", request.Card?.HeightMm ?? 1, Mm(LargestCardMm))
        ?? Text("--material", request.Material.Name)
        ?? Text("--machine", request.Machine.Name);

    /// <summary>Refuses a value, for one of the reasons that the sentence knows.</summary>
    internal static Refusal Fault(string fault, params IEnumerable<(string Name, Figure Value)> values) =>
        Refusal.OfInput(Codes.PlanValue, [("fault", fault), .. values]);

    /// <summary>
    /// A paper mask keeps a lamp's light from a cut card's rim, and lines a few tenths wide do not tell where their grid lies
    /// in a window.
    /// </summary>
    private static Refusal? Framed(PlanRequest request) => request switch
    {
        { Frame: null } => null,
        { Process: Process.Cut } => Fault("mask", ("card", "cut")),
        { Kind: CardKind.FocusLadder } => Fault("mask", ("card", "ladder")),
        _ => null,
    };

    private static Refusal? Passes(PlanRequest request)
    {
        if (request.FocusStepMm is { } step)
        {
            if (request.Kind == CardKind.FocusLadder) return Fault("ladder-step");
            if (Between("--focus-step", step, Mm(0), Mm(BurningRules.MostFocusStepMm)) is { } fault) return fault;
        }

        bool isOnePass = request.Settings.All(range => range.Setting != Setting.Passes || range.Values.All(passes => passes == 1));
        if (isOnePass && request.FocusStepMm > 0) return Fault("one-pass", ("option", new OptionName("--focus-step")));
        if (isOnePass && request.PassPauseS > 0) return Fault("one-pass", ("option", new OptionName("--pass-pause")));
        Number none = In(Unit.Seconds, 0), most = In(Unit.Seconds, BurningRules.MostPauseS);
        return Between("--pass-pause", request.PassPauseS ?? 0, none, most) ?? Between("--cell-pause", request.CellPauseS ?? 0, none, most);
    }

    /// <summary>Tabs that touch each other, or a corner, leave nothing to cut.</summary>
    private static Refusal? Tabs(PlanRequest request)
    {
        double room = request.CellSideMm / Math.Max(1, request.TabsPerSide);
        return request.TabsPerSide == 0 || request.TabMm < room ? null : Fault("tab-room", ("option", new OptionName("--tab-length")),
            ("value", Given(request.TabMm)), ("tabs", request.TabsPerSide), ("cell", Mm(request.CellSideMm)), ("room", Mm(room)));
    }

    private static Refusal? Mark(MarkSetting? mark) => mark is null ? null
        : SettingRange.FaultOf("--mark-power", Setting.PowerPercent, mark.PowerPercent)
        ?? SettingRange.FaultOf("--mark-speed", Setting.SpeedMmPerMin, mark.SpeedMmPerMin);

    /// <summary>The watts have an option of their own.</summary>
    private static Refusal? OfMachine(Machine machine) => MachineRules.Check(machine)
        .Where(fault => fault.Path != "ratedOpticalWatts")
        .Select(fault => Fault("machine", ("field", fault.ToFigure()))).FirstOrDefault();

    private static Refusal? Between(string option, double value, Number least, Number most, string fault = "between") =>
        value >= least.Value && value <= most.Value
            ? null
            : Fault(fault, ("option", new OptionName(option)), ("value", Given(value)), ("least", least), ("most", most));

    private static Refusal? Between(string option, int value, int least, int most, string fault = "between") =>
        Between(option, value, new Number(least, Unit.None), new Number(most, Unit.None), fault);

    private static Refusal? Positive(string option, double value, Number most, string fault = "positive") =>
        value > 0 && value <= most.Value
            ? null
            : Fault(fault, ("option", new OptionName(option)), ("value", Given(value)), ("most", most));

    private static Refusal? Text(string option, string text) =>
        string.IsNullOrWhiteSpace(text) ? Fault("text", ("option", new OptionName(option))) : null;
}
