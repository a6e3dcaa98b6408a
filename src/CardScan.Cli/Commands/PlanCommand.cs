using System.CommandLine;
using System.CommandLine.Parsing;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan plan</c>: ranges of settings to a card worth burning.</summary>
internal sealed class PlanCommand
{
    private readonly Terminal _terminal;
    private readonly HostEnvironment _surroundings;
    private readonly Option<string> _kind = new("--kind")
    {
        Description = Voice.Say("option.kind"), HelpName = "grid|focus-ladder", DefaultValueFactory = _ => "grid",
    };

    private readonly Option<string> _process = new("--process")
    {
        Description = Voice.Say("option.process.plan"), HelpName = "engrave|cut", DefaultValueFactory = _ => "engrave",
    };

    private readonly Option<bool> _cut = new("--cut") { Description = OptionText.Of("--cut") };

    private readonly (Setting Setting, Option<string> Option)[] _settings =
    [
        (Setting.PowerPercent, Range("--power")),
        (Setting.SpeedMmPerMin, Range("--speed")),
        (Setting.Passes, Range("--passes")),
        (Setting.FocusOffsetMm, Range("--focus-offset")),
        (Setting.LineIntervalMm, Range("--line-interval")),
    ];

    private readonly PassOptions _passes = new();
    private readonly Option<string> _material = new("--material")
    {
        Description = Voice.Say("option.material.plan"), HelpName = OptionText.Placeholder("name"),
    };

    private readonly MaterialOptions _materialOptions = new();
    private readonly Option<string?> _acceptRisk = AcceptRisk();
    private readonly Option<string> _machine = new("--machine")
    {
        Description = Voice.Say("option.machine.plan", ("name", OptionText.Placeholder("machine"))),
        HelpName = OptionText.Placeholder("name"),
    };

    private readonly MachineOptions _machineOptions = new();
    private readonly ProfilesInput _profiles;
    private readonly Option<double?> _number = NumberOption.OfCard(new Phrase("option.number.plan"));
    private readonly Option<string> _title = new("--title")
    {
        Description = Voice.Say("option.title"), HelpName = OptionText.Placeholder("text"), DefaultValueFactory = _ => "",
    };

    private readonly Option<double?> _seed = NumberOption.Create("--seed");
    private readonly Option<double?> _tabs = NumberOption.Create("--tabs");
    private readonly Option<double?> _tabLength = NumberOption.Create("--tab-length");
    private readonly Option<double?> _cell = NumberOption.Create("--cell");
    private readonly Option<double?> _gap = NumberOption.Create("--gap");
    private readonly Option<double?> _marker = NumberOption.Create("--marker");
    private readonly Option<string?> _frame = new("--frame") { Description = Voice.Say("option.frame"), HelpName = "a4|letter" };
    private readonly Option<CardSize?> _card = SizeOption.Create("--card");
    private readonly ExtrasInput _extras = new();
    private readonly Option<bool> _json = OptionText.Json();
    private readonly ArchiveInput _archive;
    private readonly Option<string?> _output = new("--out", "-o")
    {
        Description = Voice.Say("option.out.card"), HelpName = OptionText.Placeholder("folder"),
    };

    private PlanCommand(Terminal terminal, HostEnvironment surroundings)
    {
        (_terminal, _surroundings, _profiles, _archive) = (terminal, surroundings, new(surroundings), new(surroundings));
        _process.AcceptOnlyFromAmong("engrave", "cut");
        _kind.AcceptOnlyFromAmong("grid", "focus-ladder");
        _frame.AcceptOnlyFromAmong("a4", "letter");
        _profiles.Complete(_machine, _material);
    }

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        PlanCommand plan = new(terminal, surroundings);
        ExplainedCommand command = new("plan",
            "cardscan plan --material \"birch plywood\" --thickness 3 --cut --watts 10 --number 16",
            "cardscan plan --material \"birch plywood\" --thickness 3 --watts 10 --power 20:95:6 "
                + "--speed 1000,1500,2200,3300,5000mm/min --number 17",
            "cardscan plan --process cut --material \"birch plywood\" --thickness 3 --watts 10 --power 50:100:6 "
                + "--speed 2,3,4,6mm/s --number 18",
            "cardscan plan --kind focus-ladder --material \"birch plywood\" --watts 10 --power 30,60 --speed 2000mm/min "
                + "--focus-offset=-2:2:9 --number 19");
        foreach (Option option in plan.Options()) command.Options.Add(option);
        plan._archive.AddTo(command, mayBeLeftOut: true);
        command.Validators.Add(plan.CheckProcess);
        command.SetAction(plan.Run);
        return command;
    }

    private IEnumerable<Option> Options() =>
    [
        _kind, _process, _cut, .. _settings.Select(setting => setting.Option), .. _passes.All,
        _material, .. _materialOptions.All, _acceptRisk, _machine, .. _machineOptions.All, _profiles.Option,
        _number, _title, _seed, _tabs, _tabLength, _cell, _gap, _marker, _frame, _card, .. _extras.All, _output, _json,
    ];

    private void CheckProcess(CommandResult result)
    {
        if (result.GetValue(_cut) && result.GetResult(_process) is { Implicit: false } && result.GetValue(_process) == "engrave")
            result.AddError(Voice.Say("option.both", ("first", "--cut"), ("second", "--process engrave")));
    }

    private int Run(ParseResult parsed)
    {
        Outcome<PlanRequest> request = Request(parsed);
        if (request.IsRefused) return _terminal.Refuse(request.Refusal!);
        Outcome<MadeCard> made = MakeCard.Run(new()
        {
            Plan = request.Value,
            TakesFreeNumber = parsed.GetValue(_number) is null,
            MayShrinkCells = parsed.GetValue(_cell) is null,
            MayFitToCard = parsed.GetValue(_cell) is null && parsed.GetValue(_gap) is null && parsed.GetValue(_marker) is null,
            OutputFolder = _surroundings.At(parsed.GetValue(_output) ?? CardRequest.FolderOfCard),
            Extras = _extras.From(parsed),
            Archive = _archive.From(parsed),
            BeforeWriting = planned => Caution(_terminal, planned),
        });
        return made.IsRefused ? _terminal.Refuse(made.Refusal!) : Print(_terminal, made.Value, parsed.GetValue(_json));
    }

    private Outcome<PlanRequest> Request(ParseResult parsed)
    {
        Outcome<ValueList<SettingRange>> ranges = Ranges(parsed);
        if (ranges.IsRefused) return ranges.Refusal!;
        Profiles profiles = _profiles.From(parsed);
        Outcome<Preferences> usually = profiles.ReadPreferences();
        if (usually.IsRefused) return usually.Refusal!;
        string? usualMaterial = parsed.GetValue(_material) is null ? usually.Value.Material : null;
        string? usualMachine = parsed.GetValue(_machine) is null ? usually.Value.Machine : null;
        Outcome<Material> material = MaterialOf(parsed, profiles, usualMaterial);
        if (material.IsRefused) return material.Refusal!;
        Outcome<Machine> machine = MachineOf(parsed, profiles, usualMachine);
        if (machine.IsRefused) return machine.Refusal!;
        ProfilesInput.TellDefaults(_terminal, usualMachine, usualMaterial);

        PlanRequest usual = new() { Material = material.Value, Machine = machine.Value, Settings = ranges.Value };
        CardKind kind = parsed.GetValue(_kind) == "focus-ladder" ? CardKind.FocusLadder : CardKind.Grid;
        return _passes.Over(usual with
        {
            Kind = kind,
            Process = parsed.GetValue(_cut) || parsed.GetValue(_process) == "cut" ? Process.Cut : Process.Engrave,
            Number = (int)(parsed.GetValue(_number) ?? 0),
            Title = parsed.GetValue(_title)!,
            Seed = (int?)parsed.GetValue(_seed),
            AcceptedRisk = parsed.GetValue(_acceptRisk),
            TabsPerSide = (int)(parsed.GetValue(_tabs) ?? 0),
            TabMm = parsed.GetValue(_tabLength) ?? usual.TabMm,
            CellSideMm = parsed.GetValue(_cell) ?? (kind == CardKind.FocusLadder ? PlanRequest.UsualLadderCellMm : usual.CellSideMm),
            GapMm = parsed.GetValue(_gap) ?? usual.GapMm,
            MarkerSideMm = parsed.GetValue(_marker) ?? usual.MarkerSideMm,
            Frame = parsed.GetValue(_frame) switch { "a4" => Paper.A4, "letter" => Paper.Letter, _ => null },
            Card = parsed.GetValue(_card),
        }, parsed);
    }

    private Outcome<ValueList<SettingRange>> Ranges(ParseResult parsed)
    {
        List<SettingRange> ranges = [];
        foreach ((Setting setting, Option<string> option) in _settings)
        {
            if (parsed.GetValue(option) is not { } text) continue;
            Outcome<SettingRange> range = SettingRange.Parse(setting, text);
            if (range.IsRefused) return range.Refusal!;
            ranges.Add(range.Value);
        }

        return ranges.ToValueList();
    }

    private Outcome<Material> MaterialOf(ParseResult parsed, Profiles profiles, string? usual)
    {
        if (usual is not null)
        {
            Outcome<KeptProfile> kept = profiles.Kept(usual, isMachine: false);
            return kept.IsRefused ? kept.Refusal! : _materialOptions.Over(kept.Value.Material!.Content, parsed);
        }

        if (parsed.GetValue(_material) is not { } name) return Refusal.OfInput(Codes.PlanNoMaterial);
        Outcome<Profile<Material>?> found = profiles.FindMaterial(FileOr(name));
        if (found.IsRefused) return found.Refusal!;
        if (found.Value is null && profiles.NearMaterial(name) is { } near) ProfilesInput.WarnOfNear(_terminal, "material", name, near);
        return _materialOptions.Over(found.Value?.Content ?? new() { Name = name }, parsed);
    }

    private Outcome<Machine> MachineOf(ParseResult parsed, Profiles profiles, string? usual)
    {
        if (usual is not null)
        {
            Outcome<KeptProfile> kept = profiles.Kept(usual, isMachine: true);
            return kept.IsRefused ? kept.Refusal! : _machineOptions.Over(usual, kept.Value.Machine!.Content, parsed)!;
        }

        string name = parsed.GetValue(_machine) ?? OptionText.Placeholder("machine");
        Outcome<Profile<Machine>?> found = profiles.FindMachine(FileOr(name));
        if (found.IsRefused) return found.Refusal!;
        if (_machineOptions.Over(name, found.Value?.Content, parsed) is not { } machine) return profiles.WattsMissing(name);
        if (found.Value is null && profiles.NearMachine(name) is { } near) ProfilesInput.WarnOfNear(_terminal, "machine", name, near);
        return machine;
    }

    /// <summary>A name without a folder or ending is a profile's, whatever files lie in the working folder.</summary>
    private string FileOr(string name) => Profiles.IsFileName(name, _surroundings.WorkingFolder) ? _surroundings.At(name) : name;

    private static Option<string> Range(string name) =>
        new(name) { Description = OptionText.Of(name), HelpName = OptionText.Placeholder("range") };

    /// <summary>Repeats the danger of a material, word by word.</summary>
    public static Option<string?> AcceptRisk() =>
        new("--accept-risk") { Description = Voice.Say("option.accept-risk"), HelpName = OptionText.Placeholder("words") };

    /// <summary>What to heed when burning it; before any file is there to be burned.</summary>
    public static void Caution(Terminal terminal, PlannedCard planned)
    {
        // What concerns this card stands before what concerns every one.
        if (planned.Plan.AcceptedRisk is { } risk) terminal.Warn(Voice.Say("terminal.accepted", ("risk", risk)));
        foreach (Advice hint in planned.Hints) terminal.Warn(hint);
        if (planned.WithoutMachineFile is { } missing) terminal.Warn(missing);
        foreach (string caution in planned.Cautions) terminal.Warn(caution);
    }

    /// <summary>Prints what was made; exit code of the command.</summary>
    private static int Print(Terminal terminal, MadeCard made, bool isJson)
    {
        if (!isJson) return Print(terminal, made);
        terminal.ShowRaw(JsonText.Of(PlanJson.Of(made)));
        return CodeOf(terminal, made);
    }

    /// <summary>Prints what was made for a person; exit code of the command.</summary>
    public static int Print(Terminal terminal, MadeCard made)
    {
        Plan plan = made.Plan;
        string card = Voice.Say("terminal.card", ("number", plan.Number));
        string size = Voice.Tell(made.Planned.Size);
        terminal.Show($"[bold]{card}[/]: {Markup.Escape(size)}");
        terminal.ShowText(Voice.Tell(made.Planned.Burning));
        terminal.ShowText(Voice.Tell(made.Planned.Axes));
        terminal.ShowText(Voice.Tell(plan.EveryCell()));
        if (plan.Burning?.Marks is { } marks)
            terminal.ShowText(Voice.Say("terminal.plan-marks", ("setting", new SettingFigure(marks.SpeedMmPerMin, marks.PowerPercent))));
        if (made.Planned.Start is { } start) terminal.ShowText(Voice.Tell(start));
        foreach (string file in made.Files) terminal.ShowLine(file);
        foreach (Warning doubt in made.Doubts) terminal.Warn(doubt);
        return CodeOf(terminal, made);
    }

    /// <summary>Exit code of a command that planned a card; says why the archive could not keep it.</summary>
    public static int CodeOf(Terminal terminal, MadeCard made) =>
        made.Kept is { IsRefused: true } notKept ? terminal.TellNotKept(notKept.Refusal!) : ExitCode.Done;
}
