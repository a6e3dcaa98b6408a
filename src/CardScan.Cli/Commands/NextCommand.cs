using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan next</c>: the card that follows a burned one.</summary>
internal static class NextCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        CompanyInput company = new(surroundings);
        Option<string> output = new("--out", "-o")
        {
            Description = Voice.Say("option.out.card"), HelpName = OptionText.Placeholder("folder"),
        };
        Option<double?> number = NumberOption.OfCard(new Phrase("option.number.next"));
        Option<string> goal = new("--goal") { Description = Voice.Say("option.goal"), HelpName = OptionText.Placeholder("goal") };
        goal.AcceptOnlyFromAmong(Goal.FastestFullMark, Goal.Darkest, Goal.SureCut, Goal.CleanCut);
        Option<GridSize?> cells = GridOption.Create("--cells");
        Option<double?> step = NumberOption.Create("--power-step",
            new(1, 10, Unit.Percent) { Among = [1, 2, 5, 10], Told = new Phrase("option.power-step.range") });
        Option<double?> slowest = NumberOption.OfSpeed("--slowest", 10, 100_000);
        Option<double?> fastest = NumberOption.OfSpeed("--fastest", 20, 1_000_000);
        Option<string> machine = new("--machine")
        {
            Description = Voice.Say("option.machine.next"), HelpName = OptionText.Placeholder("name"),
        };
        Option<string?> acceptRisk = PlanCommand.AcceptRisk();
        Option<bool> json = OptionText.Json();
        ProfilesInput profiles = new(surroundings);
        profiles.Complete(machine);
        ScoringInput scoring = new();
        ExtrasInput extras = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("next", "cardscan next card-17/reading.json --number 19", "cardscan next 17")
        {
            output, number, goal, cells, step, slowest, fastest, machine, profiles.Option, acceptRisk, json,
        };
        foreach (Option option in extras.All) command.Options.Add(option);
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
                AcceptedRisk = parsed.GetValue(acceptRisk),
                Number = (int?)parsed.GetValue(number),
                OutputFolder = surroundings.At(parsed.GetValue(output) ?? CardRequest.FolderOfCard),
                Extras = extras.From(parsed),
                Archive = archive.From(parsed),
                MachineNow = burned => MachineNow(terminal, profiles.From(parsed), burned, parsed.GetValue(machine)),
                BeforeWriting = planned => PlanCommand.Caution(terminal, planned),
            });
            if (made.IsRefused) return terminal.Refuse(made.Refusal!);
            if (!parsed.GetValue(json)) return Print(terminal, made.Value);
            terminal.ShowRaw(JsonText.Of(PlanJson.Of(made.Value)));
            return PlanCommand.CodeOf(terminal, made.Value.Card);
        });
        return command;
    }

    private static Outcome<Machine?> MachineNow(Terminal terminal, Profiles profiles, Machine burned, string? given)
    {
        Outcome<Machine?> machine = profiles.ForNext(burned, given);
        if (given is null && !machine.IsRefused && machine.Value is { } usual) ProfilesInput.TellDefaults(terminal, usual.Name, null);
        return machine;
    }

    private static int Print(Terminal terminal, NextCardMade made)
    {
        string settings =
            Voice.Say("terminal.settings", ("speeds", List(made.Ranges.SpeedsMmPerMin.Select(Speed))),
            ("powers", List(made.Ranges.PowersPercent.Select(Power))));
        terminal.Show($"[bold]{Markup.Escape(settings)}[/]");
        if (made.Joined.Count > 0)
            terminal.ShowText(Voice.Say("terminal.planned-by", ("card", made.After), ("cards", JoinedCard.ToFigure(made.Joined))));
        foreach (Warning doubt in made.Doubts) terminal.Warn(doubt);
        foreach (Advice note in made.Ranges.Notes) terminal.ShowText($"  {note.Message}");
        return PlanCommand.Print(terminal, made.Card);
    }
}
