using System.CommandLine;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan plan</c>: ranges of settings to a card worth burning.</summary>
internal static class PlanCommand
{
    public static Command Create(Terminal terminal, Surroundings surroundings)
    {
        Option<string> process = new("--process") { Description = "engrave fills the cells, cut outlines them", HelpName = "engrave|cut", DefaultValueFactory = _ => "engrave" };
        process.AcceptOnlyFromAmong("engrave", "cut");
        (Setting Setting, Option<string> Option)[] settings =
        [
            (Setting.PowerPercent, Range("--power", "Power, percent of full", isNeeded: true)),
            (Setting.SpeedMmPerMin, Range("--speed", "Speed, mm/min", isNeeded: true)),
            (Setting.Passes, Range("--passes", "Passes (default 1)")),
            (Setting.FocusOffsetMm, Range("--focus-offset", "Focus above (+) or below (−) the surface, mm (default 0); a range that begins below is given as --focus-offset=-2:2:5")),
            (Setting.LineIntervalMm, Range("--line-interval", "Distance of the lines of a fill, mm (default 0.1)")),
        ];
        Option<string> material = new("--material") { Description = "Material, as you call it", HelpName = "name", Required = true };
        Option<double?> thickness = NumberOption.Create("--thickness", "Thickness of the material, mm; needed to read a cut card", mm => mm is > 0 and <= 1000, "a number of mm above 0");
        Option<string> batch = new("--batch") { Description = "The delivery it came with", HelpName = "name" };
        Option<string> machine = new("--machine") { Description = "Machine, as you call it", HelpName = "name", DefaultValueFactory = _ => "my laser" };
        Option<double?> watts = NumberOption.Create("--watts", "Optical power at 100 %, watts: what leaves the lens, not what the supply draws", w => w is > 0 and <= 10_000, "a number of watts above 0");
        watts.Required = true;
        Option<double?> number = NumberOption.Create("--number", "The card's number, 0 to 249; give each card that you keep its own (default: the archive's next free one; 0 without an archive)", n => n is >= 0 and <= 249 && double.IsInteger(n), "a whole number from 0 to 249");
        Option<double?> cell = NumberOption.Create("--cell", "Side of a cell, mm (default 8)", mm => mm is >= 4 and <= 50, "4 to 50 mm");
        Option<double?> gap = NumberOption.Create("--gap", "Least bare strip between cells, mm (default 6)", mm => mm is >= 6 and <= 50, "6 to 50 mm: the light is judged on the bare strips");
        Option<double?> marker = NumberOption.Create("--marker", "Side of a corner marker, mm (default 10)", mm => mm is >= 10 and <= 15, "10 to 15 mm");
        Option<CardSize?> card = SizeOption.Create("--card", "Size of the card, mm; the grid is spread over it (default: the smallest that holds the grid)");
        Option<string> title = new("--title") { Description = "Your words for the card", HelpName = "text", DefaultValueFactory = _ => "" };
        Option<string> output = new("--out", "-o") { Description = "Folder for plan.json and card.svg (default card-NUMBER)", HelpName = "folder" };

        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("plan", "Make a test card to burn", """
            Leaves plan.json, which reading the card needs later, and card.svg, the drawing at true size. The plan is kept in
            the archive, where the card's photo finds it by its number.

            A range is a number (50), a list (10,20,40), start:end:count (20:80:7) or start:end:/step (20:80:/10).
            One or two settings take several values and become the axes of the grid.

            Examples:
              cardscan plan --material "birch plywood" --thickness 3 --watts 10 --power 20:95:6 --speed 1000,1500,2200,3300,5000 --number 17
              cardscan plan --process cut --material "birch plywood" --thickness 3 --watts 10 --power 50:100:6 --speed 120,180,260,380 --number 18
            """)
        {
            process,
        };
        foreach ((_, Option<string> option) in settings) command.Options.Add(option);
        foreach (Option option in (Option[])[material, thickness, batch, machine, watts, number, title, cell, gap, marker, card, output]) command.Options.Add(option);
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            List<SettingRange> ranges = [];
            foreach ((Setting setting, Option<string> option) in settings)
            {
                if (parsed.GetValue(option) is not { } text) continue;
                Outcome<SettingRange> range = SettingRange.Parse(setting, text);
                if (range.IsRefused) return terminal.Refuse(range.Refusal!);
                ranges.Add(range.Value);
            }

            PlanRequest usual = new()
            {
                Material = new() { Name = parsed.GetValue(material)!, ThicknessMm = parsed.GetValue(thickness), Batch = parsed.GetValue(batch) },
                Machine = new() { Name = parsed.GetValue(machine)!, RatedOpticalWatts = parsed.GetValue(watts)!.Value },
                Settings = ranges.ToValueList(),
            };
            PlanRequest request = usual with
            {
                Process = parsed.GetValue(process) == "cut" ? Process.Cut : Process.Engrave,
                Number = (int)(parsed.GetValue(number) ?? 0),
                Title = parsed.GetValue(title)!,
                CellSideMm = parsed.GetValue(cell) ?? usual.CellSideMm,
                GapMm = parsed.GetValue(gap) ?? usual.GapMm,
                MarkerSideMm = parsed.GetValue(marker) ?? usual.MarkerSideMm,
                Card = parsed.GetValue(card),
            };
            Outcome<MadeCard> made = MakeCard.Run(new()
            {
                Plan = request,
                TakesFreeNumber = parsed.GetValue(number) is null,
                OutputFolder = parsed.GetValue(output),
                Archive = archive.From(parsed),
            });
            return made.IsRefused ? terminal.Refuse(made.Refusal!) : Print(terminal, made.Value);
        });
        return command;
    }

    private static Option<string> Range(string name, string description, bool isNeeded = false) =>
        new(name) { Description = description, HelpName = "range", Required = isNeeded };

    private static int Print(Terminal terminal, MadeCard made)
    {
        Plan plan = made.Plan;
        terminal.Show($"[bold]Card {plan.Number}[/]: {plan.Columns.Values.Count} × {plan.Rows.Values.Count} cells on {plan.Card.WidthMm} × {plan.Card.HeightMm} mm");
        foreach (string file in made.Files) terminal.ShowLine(file);
        foreach (Advice hint in PlanHints.Of(plan)) terminal.Warn(hint.Message);
        foreach (Warning doubt in made.Doubts) terminal.Warn(doubt.Message);
        foreach (string caution in Cautions.For(plan.Machine)) terminal.Warn(caution);
        return made.Kept is { IsRefused: true } notKept ? terminal.Refuse(notKept.Refusal!) : ExitCode.Done;
    }
}
