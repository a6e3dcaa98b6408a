using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>
/// <c>cardscan demo</c>: the shipped cards, read as any other, and two of them compared; then a workshop's settings and its new module.
/// </summary>
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
            return ShowWorkshop(terminal, surroundings, folder);
        });
        return command;
    }

    /// <summary>One setting a card is enough to see what the book looks like.</summary>
    private static bool IsShown(KeptSetting setting) => setting.Recommendation.Goal is Goal.FastestFullMark or Goal.SureCut;

    private static int ShowWorkshop(Terminal terminal, HostEnvironment surroundings, string folder)
    {
        Outcome<DemoWorkshopResult> shown = terminal.Working(
            Voice.Say("terminal.demo-workshop-reading"), () => DemoWorkshop.Run(AppContext.BaseDirectory, folder, surroundings.Clock));
        if (shown.IsRefused) return terminal.Refuse(shown.Refusal!);
        terminal.Show("");
        terminal.ShowText(Voice.Say("terminal.demo-workshop", ("folder", shown.Value.Archive.Folder)));
        terminal.Show("");
        SettingsPrinter.Print(terminal, shown.Value.Settings.Settings.Where(IsShown).ToValueList());
        CarryCommand.Print(terminal, shown.Value.Carried);
        terminal.Show("");
        terminal.ShowLine(Voice.Say("terminal.demo-sheet", ("file", Path.GetFullPath(shown.Value.Sheet))));
        return ExitCode.Done;
    }
}
