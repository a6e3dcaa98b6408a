using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan greys</c>: a grey strip to print.</summary>
internal static class GreysCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Option<double?> number = NumberOption.OfCard(new Phrase("option.number.plan"));
        Option<string?> output = new("--out", "-o")
        {
            Description = Voice.Say("option.out.card"), HelpName = OptionText.Placeholder("folder"),
        };
        ArchiveInput archive = new(surroundings);
        ExplainedCommand command = new("greys", "cardscan greys", "cardscan greys --out my-strip") { number, output };
        archive.AddTo(command, mayBeLeftOut: true);
        command.SetAction(parsed =>
        {
            Outcome<MadeStrip> made = MakeStrip.Run(new()
            {
                Number = (int?)parsed.GetValue(number),
                OutputFolder = surroundings.At(parsed.GetValue(output) ?? CardRequest.FolderOfCard),
                Archive = archive.From(parsed),
            });
            return made.IsRefused ? terminal.Refuse(made.Refusal!) : Print(terminal, made.Value);
        });
        return command;
    }

    private static int Print(Terminal terminal, MadeStrip made)
    {
        terminal.ShowText(Voice.Say("terminal.strip", ("number", made.Plan.Number), ("greys", made.Plan.Cells.Count)));
        foreach (string file in made.Files) terminal.ShowLine(file);
        return made.Kept is { IsRefused: true } notKept ? terminal.TellNotKept(notKept.Refusal!) : ExitCode.Done;
    }
}
