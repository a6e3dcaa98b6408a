using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary><c>cardscan archive best</c>: what is set today.</summary>
internal static class BestCommand
{
    private static readonly string[] Columns =
        ["material", "machine", "process", "goal", "setting", "confidence", "interval", "batch", "read", "reading", "others", "hazard"];

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        QueryInput query = new(hasText: true);
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("archive-best", "cardscan archive best birch") { json };
        query.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<ValueList<BestSetting>> best = archive.Place(parsed).Best(query.From(parsed));
            if (best.IsRefused) return terminal.Refuse(best.Refusal!);
            foreach (BestSetting setting in best.Value) ArchiveMessages.WarnOf(terminal, setting.Card);
            if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(best.Value.Select(Json)));
            else if (best.Value.Count > 0)
                TablePrinter.Print(terminal, Columns, [.. best.Value.Select(each => Row(each, terminal.IsOutputTerminal))]);
            if (best.Value.Count == 0) terminal.Note(Voice.Say("terminal.best-none"));
            else terminal.Warn(Voice.Say("terminal.best-caution"));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>A program gets the goal's code, a person its name.</summary>
    private static string[] Row(BestSetting best, bool isForPerson)
    {
        RecommendationEntry recommendation = best.Recommendation;
        return
        [
            ArchiveMessages.Material(best.Card),
            best.Card.Machine,
            ArchiveMessages.Process(best.Card),
            isForPerson
                ? GoalName.Of(recommendation.Goal, recommendation.Confidence, recommendation.Interval)
                : recommendation.Goal,
            ArchiveMessages.Setting(recommendation),
            recommendation.Confidence is { } stated
                ? ConfidenceLine.InColumn(recommendation.Goal, stated, recommendation.Interval)
                : "",
            recommendation.Interval is { } interval ? ArchiveMessages.Interval(interval) : "",
            best.Card.Batch ?? "",
            $"{best.ReadUtc:yyyy-MM-dd}",
            best.ReadingName,
            best.Readings == 1 ? "" : Others(best),
            ArchiveMessages.Hazards(best.Card),
        ];
    }

    private static string Others(BestSetting best) => Voice.Say(
        "terminal.best-others", ("count", best.Readings - 1), ("speeds", best.Speeds()), ("powers", best.Powers()));

    private static JsonObject Json(BestSetting best) => JsonText.Without(new()
    {
        ["material"] = best.Card.Material,
        ["thicknessMm"] = best.Card.ThicknessMm,
        ["machine"] = best.Card.Machine,
        ["ratedOpticalWatts"] = best.Card.RatedOpticalWatts,
        ["process"] = ArchiveJson.Process(best.Card),
        ["recommendation"] = ArchiveJson.Of(best.Recommendation),
        ["batch"] = best.Card.Batch,
        ["readUtc"] = ArchiveJson.Time(best.ReadUtc),
        ["reading"] = best.ReadingName,
        ["card"] = best.Card.Name,
        ["readings"] = best.Readings,
        ["speedMmPerMinLow"] = best.SpeedMmPerMin.Low,
        ["speedMmPerMinHigh"] = best.SpeedMmPerMin.High,
        ["powerPercentLow"] = best.PowerPercent.Low,
        ["powerPercentHigh"] = best.PowerPercent.High,
        ["warnings"] = ArchiveJson.Warnings(best.Card),
    });
}
