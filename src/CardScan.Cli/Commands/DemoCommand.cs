using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan demo</c>: the shipped cards, read as any other, and two of them compared.</summary>
internal static class DemoCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Option<string> output = new("--out", "-o")
        {
            Description = Voice.Say("option.out.results"),
            HelpName = OptionText.Placeholder("folder"),
            DefaultValueFactory = _ => "cardscan-demo",
        };
        ExplainedCommand command = new("demo", "cardscan demo --out cardscan-demo") { output };
        command.SetAction(parsed =>
        {
            string folder = surroundings.At(parsed.GetValue(output)!);
            Outcome<DemoResult> results =
                terminal.Counting(progress => Demo.Run(AppContext.BaseDirectory, folder, surroundings.Clock, progress));
            if (results.IsRefused) return terminal.Refuse(results.Refusal!);
            foreach (ReadResult result in results.Value.Cards)
            {
                ReadingSummary.Print(terminal, result, isJson: false);
                terminal.Show("");
            }

            terminal.ShowLine(Voice.Say("terminal.demo-archive", ("folder", Demo.ArchiveIn(folder, surroundings.Clock).Folder)));
            ComparisonSummary.Print(terminal, results.Value.Comparison, isJson: false);
            terminal.Show("");
            IEnumerable<string> pages = [.. results.Value.Cards.Select(result => result.Files[0]), results.Value.Comparison.Files[0]];
            foreach (string page in pages) terminal.ShowLine(Voice.Say("terminal.open-page", ("page", Path.GetFullPath(page))));
            return ExitCode.Done;
        });
        return command;
    }
}
