using System.CommandLine;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan demo</c>: the shipped cards, read as any other.</summary>
internal static class DemoCommand
{
    public static Command Create(Terminal terminal, Surroundings surroundings)
    {
        Option<string> output = new("--out", "-o") { Description = "Folder for the results", HelpName = "folder", DefaultValueFactory = _ => "cardscan-demo" };
        ExplainedCommand command = new("demo", "Read the cards that ship with CardScan", """
            Leaves a page, an annotated picture, the reading and a table of each card in a folder, and keeps them in an archive
            in that folder, apart from your own.

            Example:
              cardscan demo --out cardscan-demo
            """)
        {
            output,
        };
        command.SetAction(parsed =>
        {
            string folder = parsed.GetValue(output)!;
            Outcome<ValueList<ReadResult>> results = terminal.Working("reading", progress => Demo.Run(AppContext.BaseDirectory, folder, surroundings.Clock, progress));
            if (results.IsRefused) return terminal.Refuse(results.Refusal!);
            foreach (ReadResult result in results.Value)
            {
                ReadingSummary.Print(terminal, result, isJson: false);
                terminal.Show("");
            }

            terminal.ShowLine($"The demo has an archive of its own: cardscan archive list --archive {Demo.ArchiveIn(folder, surroundings.Clock).Folder}");
            foreach (ReadResult result in results.Value) terminal.Show($"Open [bold]{Markup.Escape(Path.GetFullPath(result.Files[0]))}[/] in a browser.");
            return ExitCode.Done;
        });
        return command;
    }
}
