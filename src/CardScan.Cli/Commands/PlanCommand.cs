using System.CommandLine;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan plan</c>: ranges of settings to a card worth burning.</summary>
internal sealed class PlanCommand
{
    private readonly Terminal _terminal;
    private readonly Option<string> _kind = new("--kind") { Description = "grid of cells, or focus-ladder: single lines at stepped focus offsets", HelpName = "grid|focus-ladder", DefaultValueFactory = _ => "grid" };
    private readonly Option<string> _process = new("--process") { Description = "engrave fills the cells, cut outlines them", HelpName = "engrave|cut", DefaultValueFactory = _ => "engrave" };
    private readonly (Setting Setting, Option<string> Option)[] _settings =
    [
        (Setting.PowerPercent, Range("--power", "Power, percent of full", isNeeded: true)),
        (Setting.SpeedMmPerMin, Range("--speed", "Speed, mm/min", isNeeded: true)),
        (Setting.Passes, Range("--passes", "Passes (default 1)")),
        (Setting.FocusOffsetMm, Range("--focus-offset", "Focus above (+) or below (−) the surface, mm (default 0); a range that begins below is given as --focus-offset=-2:2:5")),
        (Setting.LineIntervalMm, Range("--line-interval", "Spacing between fill lines, mm (default 0.1)")),
    ];

    private readonly Option<string> _material = new("--material") { Description = "Material: a profile's name or file, or any name", HelpName = "name", Required = true };
    private readonly MaterialOptions _materialOptions = new();
    private readonly Option<string?> _acceptRisk = new("--accept-risk") { Description = "The danger of a dangerous material, in the words of the refusal that named it", HelpName = "words" };
    private readonly Option<string> _machine = new("--machine") { Description = "Machine: a profile's name or file, or any name", HelpName = "name", DefaultValueFactory = _ => "my laser" };
    private readonly MachineOptions _machineOptions = new();
    private readonly ProfilesInput _profiles;
    private readonly Option<double?> _number = NumberOption.OfCard("The card's number, 0 to 249; give each card that you keep its own (default: the archive's next free one; 0 without an archive)");
    private readonly Option<string> _title = new("--title") { Description = "A title for the card", HelpName = "text", DefaultValueFactory = _ => "" };
    private readonly Option<double?> _seed = NumberOption.Create("--seed", "Seed of the order of burning (default the card's number)", n => n is >= 0 and <= int.MaxValue && double.IsInteger(n), "a whole number from 0 on");
    private readonly Option<double?> _tabs = NumberOption.Create("--tabs", "Tabs on each side of a cut cell that keep its piece in place (default 0)", n => n is >= 0 and <= 3 && double.IsInteger(n), "0 to 3");
    private readonly Option<double?> _tabLength = NumberOption.Create("--tab-length", "Length of a tab, mm; the kerf makes it shorter (default 0.5)", mm => mm is >= 0.2 and <= 2, "0.2 to 2 mm");
    private readonly Option<double?> _cell = NumberOption.Create("--cell", "Side of a cell, mm (default 8; a ladder's 12, at least 10)", mm => mm is >= 4 and <= 50, "4 to 50 mm");
    private readonly Option<double?> _gap = NumberOption.Create("--gap", "Least bare strip between cells, mm (default 6)", mm => mm is >= 6 and <= 50, "6 to 50 mm: the light is judged on the bare strips");
    private readonly Option<double?> _marker = NumberOption.Create("--marker", "Side of a corner marker, mm (default 10)", mm => mm is >= 10 and <= 15, "10 to 15 mm");
    private readonly Option<string?> _frame = new("--frame") { Description = "Print the markers on a paper frame (frame.pdf) instead of burning them, for material that takes none", HelpName = "a4|letter" };
    private readonly Option<CardSize?> _card = SizeOption.Create("--card", "Size of the card, mm; the grid is spread over it (default: the smallest size that fits the grid)");
    private readonly ArchiveInput _archive;
    private readonly Option<string?> _output = new("--out", "-o") { Description = "Folder for the files (default card-NUMBER)", HelpName = "folder" };

    private PlanCommand(Terminal terminal, HostEnvironment surroundings)
    {
        (_terminal, _profiles, _archive) = (terminal, new(surroundings), new(surroundings));
        _process.AcceptOnlyFromAmong("engrave", "cut");
        _kind.AcceptOnlyFromAmong("grid", "focus-ladder");
        _frame.AcceptOnlyFromAmong("a4", "letter");
    }

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        PlanCommand plan = new(terminal, surroundings);
        ExplainedCommand command = new("plan", "Make a test card to burn", """
            Leaves plan.json, which reading the card needs later; card.svg, the drawing at true size; preview.png; and
            card.gcode, the machine file, where work area, fastest safe feed and S value of full power are known.
            The plan is kept in the archive, where the card's photo finds it by its number.

            A range is a number (50), a list (10,20,40), start:end:count (20:80:7), start:end:/step (20:80:/10), or
            start:end:count:log (300:4800:5:log), where each value is the same multiple of the one before.
            One or two settings take several values and become the axes of the grid.

            Examples:
              cardscan plan --material "birch plywood" --thickness 3 --watts 10 --power 20:95:6 --speed 1000,1500,2200,3300,5000 --number 17
              cardscan plan --process cut --material "birch plywood" --thickness 3 --watts 10 --power 50:100:6 --speed 120,180,260,380 --number 18
              cardscan plan --kind focus-ladder --material "birch plywood" --watts 10 --power 30,60 --speed 2000 --focus-offset=-2:2:9 --number 19
            """);
        foreach (Option option in plan.Options()) command.Options.Add(option);
        plan._archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(plan.Run);
        return command;
    }

    private IEnumerable<Option> Options() =>
    [
        _kind, _process, .. _settings.Select(setting => setting.Option),
        _material, .. _materialOptions.All, _acceptRisk, _machine, .. _machineOptions.All, _profiles.Option,
        _number, _title, _seed, _tabs, _tabLength, _cell, _gap, _marker, _frame, _card, _output,
    ];

    private int Run(ParseResult parsed)
    {
        Outcome<PlanRequest> request = Request(parsed);
        if (request.IsRefused) return _terminal.Refuse(request.Refusal!);
        Outcome<MadeCard> made = MakeCard.Run(new()
        {
            Plan = request.Value,
            TakesFreeNumber = parsed.GetValue(_number) is null,
            OutputFolder = parsed.GetValue(_output),
            Archive = _archive.From(parsed),
            BeforeWriting = planned => Caution(_terminal, planned),
        });
        return made.IsRefused ? _terminal.Refuse(made.Refusal!) : Print(_terminal, made.Value);
    }

    private Outcome<PlanRequest> Request(ParseResult parsed)
    {
        Outcome<ValueList<SettingRange>> ranges = Ranges(parsed);
        if (ranges.IsRefused) return ranges.Refusal!;
        Profiles profiles = _profiles.From(parsed);
        Outcome<Material> material = MaterialOf(parsed, profiles);
        if (material.IsRefused) return material.Refusal!;
        Outcome<Machine> machine = MachineOf(parsed, profiles);
        if (machine.IsRefused) return machine.Refusal!;

        PlanRequest usual = new() { Material = material.Value, Machine = machine.Value, Settings = ranges.Value };
        CardKind kind = parsed.GetValue(_kind) == "focus-ladder" ? CardKind.FocusLadder : CardKind.Grid;
        return usual with
        {
            Kind = kind,
            Process = parsed.GetValue(_process) == "cut" ? Process.Cut : Process.Engrave,
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
        };
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

    private Outcome<Material> MaterialOf(ParseResult parsed, Profiles profiles)
    {
        string name = parsed.GetValue(_material)!;
        Outcome<Profile<Material>?> found = profiles.FindMaterial(name);
        return found.IsRefused ? found.Refusal! : _materialOptions.Over(found.Value?.Content ?? new() { Name = name }, parsed);
    }

    private Outcome<Machine> MachineOf(ParseResult parsed, Profiles profiles)
    {
        string name = parsed.GetValue(_machine)!;
        Outcome<Profile<Machine>?> found = profiles.FindMachine(name);
        if (found.IsRefused) return found.Refusal!;
        return _machineOptions.Over(name, found.Value?.Content, parsed) is { } machine
            ? machine
            : profiles.WattsMissing(name);
    }

    private static Option<string> Range(string name, string description, bool isNeeded = false) =>
        new(name) { Description = description, HelpName = "range", Required = isNeeded };

    /// <summary>What to heed when burning it; before any file is there to be burned.</summary>
    public static void Caution(Terminal terminal, PlannedCard planned)
    {
        foreach (string caution in Cautions.For(planned.Plan.Machine)) terminal.Warn(caution);
        if (planned.Plan.AcceptedRisk is { } risk) terminal.Warn($"you accepted: {risk}");
        foreach (Advice hint in planned.Hints) terminal.Warn(hint.Message);
    }

    /// <summary>Prints what was made; exit code of the command.</summary>
    public static int Print(Terminal terminal, MadeCard made)
    {
        Plan plan = made.Plan;
        terminal.Show($"[bold]Card {plan.Number}[/]: {plan.Columns.Values.Count} × {plan.Rows.Values.Count} cells on {plan.Card.WidthMm} × {plan.Card.HeightMm} mm, about {CardPlanner.PhotoPxPerMm(plan.Card):0} px/mm in a phone's photo of 12 megapixels");
        CellEstimate most = made.Estimate.MostEnergy;
        terminal.Show($"Burning takes about {made.Estimate.TimeInWords()} and {made.Estimate.Joules:0} J of laser energy; the cell with most energy, r{most.Row + 1} c{most.Column + 1}, {most.Seconds:0} s and {most.Joules:0} J");
        if (plan.Burning?.Marks is { } marks) terminal.Show($"Markers and labels: {Figures.Plain(marks.PowerPercent)} % at {Figures.Plain(marks.SpeedMmPerMin)} mm/min; --mark-power and --mark-speed change it");
        foreach (string file in made.Files) terminal.ShowLine(file);
        foreach (Warning doubt in made.Doubts) terminal.Warn(doubt.Message);
        return made.Kept is { IsRefused: true } notKept ? terminal.Refuse(notKept.Refusal!) : ExitCode.Done;
    }
}
