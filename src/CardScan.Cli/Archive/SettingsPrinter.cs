using CardScan.Language;
using CardScan.Model;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>Settings of the archive: a heading a machine for a person, a line a setting for a program.</summary>
internal static class SettingsPrinter
{
    private static readonly string[] Columns =
    [
        "material", "machine", "process", "goal", "setting", "standing", "confidence", "interval", "batch", "read", "reading", "confirmed",
        "against", "next", "hazard",
    ];

    public static void Print(Terminal terminal, ValueList<KeptSetting> settings)
    {
        if (settings.Count == 0) return;
        if (!terminal.IsOutputTerminal)
        {
            TablePrinter.Print(terminal, Columns, [.. settings.Select(Row)]);
            return;
        }

        foreach (IGrouping<string, KeptSetting> machine in settings.GroupBy(setting => Voice.Tell(setting.Heading())))
        {
            terminal.Show($"[bold]{Markup.Escape(machine.Key)}[/]");
            foreach (KeptSetting setting in machine) Print(terminal, setting);
            foreach (string next in machine.Select(setting => setting.NextStep()).OfType<Phrase>().Select(Voice.Tell).Distinct())
                terminal.ShowText($"  {next}");
            terminal.ShowLine("");
        }
    }

    private static void Print(Terminal terminal, KeptSetting setting)
    {
        string colour = setting.IsSetting ? "green" : "yellow";
        terminal.Show($"  [bold {colour}]{Markup.Escape(Voice.Tell(setting.GoalFigure()))}[/]");
        terminal.ShowText($"    {Voice.Tell(setting.SureFigure())}");
        terminal.ShowText($"    {Voice.Tell(setting.FromFigure())} {Voice.Tell(setting.ConfirmedFigure())}");
        foreach (OtherCard other in setting.Against) terminal.ShowText($"    {Voice.Tell(other.ToFigure())}");
        if (setting.Bridges is { } bridges) terminal.ShowText($"    {bridges.Message}");
    }

    private static string[] Row(KeptSetting setting)
    {
        RecommendationEntry recommendation = setting.Recommendation;
        return
        [
            ArchiveMessages.Material(setting.Card),
            Voice.Tell(setting.MachineFigure()),
            ArchiveMessages.Process(setting.Card),
            recommendation.Goal,
            Voice.Tell(setting.FullFigure()),
            EnumName.Of(setting.Standing),
            recommendation.Confidence is { } stated
                ? ConfidenceLine.InColumn(recommendation.Goal, stated, recommendation.Interval)
                : "",
            recommendation.Interval is { } interval ? Voice.Tell(interval.ToFigure()) : "",
            setting.Card.Batch ?? "",
            $"{setting.ReadUtc:yyyy-MM-dd}",
            setting.ReadingName,
            string.Join(' ', setting.Agreeing.Select(other => other.ReadingName)),
            string.Join(' ', setting.Against.Select(other => Voice.Tell(other.ToFigure()))),
            setting.Bridges?.Message ?? (setting.NextStep() is { } next ? Voice.Tell(next) : ""),
            ArchiveMessages.Hazards(setting.Card),
        ];
    }
}
