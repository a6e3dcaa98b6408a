using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary><c>cardscan archive best</c>: what is set today.</summary>
internal static class BestCommand
{
    private static readonly string[] Headings = ["material", "machine", "process", "goal", "setting", "confidence", "95 % interval", "batch", "read", "reading", "others"];

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        QueryInput query = new(hasText: true);
        Option<bool> json = new("--json") { Description = "Print JSON" };
        ExplainedCommand command = new("best", "Show the current setting for every machine, material, thickness and goal", """
            The newest reading counts, since deliveries differ and machines age; what older ones recommended stands under
            "others". A setting is where to begin, with you beside the machine.

            Example:
              cardscan archive best birch
            """)
        {
            json,
        };
        query.AddTo(command);
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<ValueList<BestSetting>> best = archive.Place(parsed).Use(opened => opened.Best(query.From(parsed)));
            if (best.IsRefused) return terminal.Refuse(best.Refusal!);
            if (parsed.GetValue(json)) terminal.ShowRaw(ArchiveJson.Text(best.Value.Select(Json)));
            else if (best.Value.Count > 0) TablePrinter.Print(terminal, Headings, [.. best.Value.Select(Row)]);
            if (best.Value.Count == 0) terminal.Note("no reading recommends a setting for that");
            else terminal.Warn("a setting is where to begin on that machine and that delivery; stay beside the machine, and follow its manual and local rules");
            return ExitCode.Done;
        });
        return command;
    }

    private static string[] Row(BestSetting best)
    {
        RecommendationEntry recommendation = best.Recommendation;
        return
        [
            ArchiveWords.Material(best.Card),
            best.Card.Machine,
            best.Card.Process == Process.Cut ? "cut" : "engrave",
            recommendation.Goal,
            ArchiveWords.Setting(recommendation),
            recommendation.Confidence is { } confidence ? ReadingSummary.Percent(confidence) : "",
            recommendation.Interval is { } interval ? ArchiveWords.Interval(interval) : "",
            best.Card.Batch ?? "",
            $"{best.ReadUtc:yyyy-MM-dd}",
            best.ReadingName,
            best.Readings == 1 ? "" : $"{best.Readings - 1}: {Range(best.SpeedMmPerMin)} mm/min, {Range(best.PowerPercent)} %",
        ];
    }

    private static string Range((double Low, double High) range) => range.Low == range.High ? Figures.Plain(range.Low) : $"{Figures.Plain(range.Low)} to {Figures.Plain(range.High)}";

    private static JsonObject Json(BestSetting best) => ArchiveJson.Without(new()
    {
        ["material"] = best.Card.Material,
        ["thicknessMm"] = best.Card.ThicknessMm,
        ["machine"] = best.Card.Machine,
        ["ratedOpticalWatts"] = best.Card.RatedOpticalWatts,
        ["process"] = best.Card.Process == Process.Cut ? "cut" : "engrave",
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
    });
}
