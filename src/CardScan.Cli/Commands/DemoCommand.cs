using System.CommandLine;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan demo</c>: the shipped cards, read as any other, and two of them compared.</summary>
internal static class DemoCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Option<string> output = new("--out", "-o") { Description = "Folder for the results", HelpName = "folder", DefaultValueFactory = _ => "cardscan-demo" };
        ExplainedCommand command = new("demo", "Read the cards that ship with CardScan, and compare two batches", """
            Leaves a page, an annotated picture, the reading and a table of each card in a folder,
            and the comparison of the two batches of birch. They are kept in an archive in that folder, apart from your own.

            Example:
              cardscan demo --out cardscan-demo
            """)
        {
            output,
        };
        command.SetAction(parsed =>
        {
            string folder = parsed.GetValue(output)!;
            Outcome<DemoResult> results = terminal.Counting(progress => Demo.Run(AppContext.BaseDirectory, folder, surroundings.Clock, progress));
            if (results.IsRefused) return terminal.Refuse(results.Refusal!);
            foreach (ReadResult result in results.Value.Cards)
            {
                ReadingSummary.Print(terminal, result, isJson: false);
                terminal.Show("");
            }

            terminal.ShowLine($"The demo has an archive of its own: cardscan archive list --archive {Demo.ArchiveIn(folder, surroundings.Clock).Folder}");
            ComparisonSummary.Print(terminal, results.Value.Comparison, isJson: false);
            terminal.Show("");
            IEnumerable<string> pages = [.. results.Value.Cards.Select(result => result.Files[0]), results.Value.Comparison.Files[0]];
            foreach (string page in pages) terminal.Show($"Open [bold]{Markup.Escape(Path.GetFullPath(page))}[/] in a browser.");
            return ExitCode.Done;
        });
        return command;
    }
}
