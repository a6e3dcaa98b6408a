using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan score</c>: a saved reading scored again.</summary>
internal static class ScoreCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        CompanyInput company = new(surroundings);
        Option<string> output = new("--out", "-o")
        {
            Description = Voice.Say("option.out.score"), HelpName = OptionText.Placeholder("folder"),
        };
        Option<bool> json = OptionText.Json("score");
        ScoringInput scoring = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("score",
            "cardscan score card-17/reading.json --full-mark 90",
            "cardscan score card-17/reading.json --tones 8 --at-speed 3300",
            "cardscan score card-21 card-17",
            "cardscan score r1 --confidence 95",
            "cardscan score r1 --alone")
        {
            output, json,
        };
        company.AddTo(command);
        scoring.AddTo(command);
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            Outcome<ReadResult> result = ScoreReading.Run(new()
            {
                Readings = company.Readings(parsed),
                IsAlone = company.IsAlone(parsed),
                Archive = archive.From(parsed),
                Scoring = scoring.From(parsed),
                OutputFolder = parsed.GetValue(output) is { } folder ? surroundings.At(folder) : null,
            });
            if (!result.IsRefused && result.Value.Files.Count > 0)
                terminal.Warn(Voice.Say("terminal.page-without-photo"));
            return result.IsRefused
                ? terminal.Refuse(result.Refusal!)
                : ReadingSummary.Print(terminal, result.Value, parsed.GetValue(json));
        });
        return command;
    }
}
