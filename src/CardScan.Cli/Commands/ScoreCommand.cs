using System.CommandLine;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan score</c>: a saved reading scored again.</summary>
internal static class ScoreCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        CompanyInput company = new();
        Option<string> output = new("--out", "-o") { Description = "Folder for the page, the reading and the table; without it nothing is written", HelpName = "folder" };
        Option<bool> json = new("--json") { Description = "Print the scored reading.json alone" };
        ScoringInput scoring = new();
        ArchiveInput archive = new(surroundings);

        ExplainedCommand command = new("score", "Score a saved reading again, with other cards, another limit or probability", """
            Only the cells' settings and measured values are used; no photo is needed. The archive keeps what was read, not
            what was tried here: to keep another scoring, read the photos again with these options.

            The first reading is scored. Readings of earlier cards named after it are scored together with it: cards of the
            same material, thickness, batch, machine and focus. A reading of the archive, named by itself, takes along the
            cards of that kind that were read before it, the newest eight at most; --alone leaves them out.

            Examples:
              cardscan score card-17/reading.json --full-mark 90
              cardscan score card-17/reading.json --tones 8 --at-speed 3300
              cardscan score card-21 card-17
              cardscan score r1 --confidence 95
              cardscan score r1 --alone
            """)
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
                OutputFolder = parsed.GetValue(output),
            });
            if (!result.IsRefused && result.Value.Files.Count > 0)
                terminal.Warn("the page has no photo, since scoring again needs none, and an annotated picture that marked other settings is gone from the folder: read the photos again with these options for both");
            return result.IsRefused ? terminal.Refuse(result.Refusal!) : ReadingSummary.Print(terminal, result.Value, parsed.GetValue(json));
        });
        return command;
    }
}
