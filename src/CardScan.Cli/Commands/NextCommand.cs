using System.CommandLine;
using CardScan.Model;
using CardScan.Scoring;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan next</c>: the card that follows a burned one.</summary>
internal static class NextCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        CompanyInput company = new();
        Option<string> output = new("--out", "-o") { Description = "Folder for the files (default card-NUMBER)", HelpName = "folder" };
        Option<double?> number = NumberOption.OfCard("The new card's number, 0 to 249 (default: the archive's next free one; without an archive the one after the old card's)");
        Option<string> goal = new("--goal") { Description = "Goal whose setting the card is planned about (default sure-cut or fastest-full-mark)", HelpName = "goal" };
        goal.AcceptOnlyFromAmong(Goal.FastestFullMark, Goal.Darkest, Goal.SureCut, Goal.CleanCut);
        Option<GridSize?> cells = GridOption.Create("--cells", "Speeds by powers, or the most cells (default 6x6)");
        Option<double?> step = NumberOption.Create("--power-step", "Powers are multiples of this, percent (default 1)", p => p is 1 or 2 or 5 or 10, "1, 2, 5 or 10");
        Option<double?> slowest = NumberOption.Create("--slowest", "Slowest speed that the machine is to run, mm/min (default 10)", v => v is >= 10 and <= 100_000, "10 to 100000 mm/min");
        Option<double?> fastest = NumberOption.Create("--fastest", "Fastest speed that the machine runs, mm/min (default 60000)", v => v is >= 20 and <= 1_000_000, "20 to 1000000 mm/min");
        ScoringInput scoring = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("next", "Plan the card that follows a burned one", """
            Leaves the files that cardscan plan leaves, of a card about the answer of the one that was read, or further on
            where that one holds no answer: speeds in steps of 10 mm/min, powers in whole steps. Material, machine, process
            and sizes stay. The plan is kept in the archive.
            Says what the new card is for and what it is expected to tell.

            The card follows the first reading. Earlier cards of the same material, thickness, batch, machine and focus add
            what they tell: those named after it, or, where one reading of the archive is named, the cards of that kind that
            were read before it, the newest eight at most; --alone leaves them out.

            Examples:
              cardscan next card-17/reading.json --number 19
              cardscan next 17
            """)
        {
            output, number, goal, cells, step, slowest, fastest,
        };
        company.AddTo(command);
        scoring.AddTo(command);
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            NextCardOptions usual = new();
            NextCardOptions options = usual with
            {
                Goal = parsed.GetValue(goal),
                Scoring = scoring.From(parsed),
                Rows = parsed.GetValue(cells)?.Rows ?? usual.Rows,
                Columns = parsed.GetValue(cells)?.Columns ?? usual.Columns,
                PowerStepPercent = parsed.GetValue(step) ?? usual.PowerStepPercent,
                SlowestMmPerMin = parsed.GetValue(slowest) ?? usual.SlowestMmPerMin,
                FastestMmPerMin = parsed.GetValue(fastest) ?? Math.Max(usual.FastestMmPerMin, 2 * (parsed.GetValue(slowest) ?? 0)),
            };
            Outcome<NextCardMade> made = PlanNext.Run(new()
            {
                Readings = company.Readings(parsed),
                IsAlone = company.IsAlone(parsed),
                Options = options,
                Number = (int?)parsed.GetValue(number),
                OutputFolder = parsed.GetValue(output),
                Archive = archive.From(parsed),
                BeforeWriting = planned => PlanCommand.Caution(terminal, planned),
            });
            return made.IsRefused ? terminal.Refuse(made.Refusal!) : Print(terminal, made.Value);
        });
        return command;
    }

    private static int Print(Terminal terminal, NextCardMade made)
    {
        terminal.Show($"[bold]{Figures.List(made.Ranges.SpeedsMmPerMin)} mm/min[/] by [bold]{Figures.List(made.Ranges.PowersPercent)} %[/]");
        if (made.Joined.Count > 0) terminal.Show(Markup.Escape($"Planned by card {made.After} together with {JoinedCard.InWords(made.Joined)}"));
        foreach (Warning doubt in made.Doubts) terminal.Warn(doubt.Message);
        foreach (Advice note in made.Ranges.Notes) terminal.Show($"  {Markup.Escape(note.Message)}");
        return PlanCommand.Print(terminal, made.Card);
    }
}
