using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>What the archive holds, for other programs (docs/archive.md, "JSON").</summary>
internal static class ArchiveJson
{
    private static readonly JsonSerializerOptions Layout = new()
    {
        WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>A list as text, ending in a line break.</summary>
    public static string Text(IEnumerable<JsonObject> items) => new JsonArray([.. items]).ToJsonString(Layout) + "\n";

    /// <summary>An object as text, ending in a line break.</summary>
    public static string Text(JsonObject item) => item.ToJsonString(Layout) + "\n";

    /// <summary>A card.</summary>
    public static JsonObject Of(CardEntry card) => Without(new()
    {
        ["card"] = card.Name,
        ["number"] = card.Number,
        ["title"] = card.Title,
        ["process"] = Process(card),
        ["material"] = card.Material,
        ["thicknessMm"] = card.ThicknessMm,
        ["batch"] = card.Batch,
        ["machine"] = card.Machine,
        ["ratedOpticalWatts"] = card.RatedOpticalWatts,
        ["keptUtc"] = Time(card.KeptUtc),
        ["closedUtc"] = Time(card.ClosedUtc),
        ["readings"] = card.Readings,
        ["newestReading"] = card.NewestReadingId is { } id ? $"r{id}" : null,
        ["newestReadUtc"] = Time(card.NewestReadUtc),
        ["recommendations"] = new JsonArray([.. card.Recommendations.Select(Of)]),
        ["tags"] = new JsonArray([.. card.Tags.Select(tag => JsonValue.Create(tag))]),
    });

    /// <summary>A reading.</summary>
    public static JsonObject Of(ReadingEntry reading) => Without(new()
    {
        ["reading"] = reading.Name,
        ["card"] = $"c{reading.CardId}",
        ["readUtc"] = Time(reading.ReadUtc),
        ["isCurrent"] = reading.IsCurrent,
        ["report"] = reading.ReportPath,
        ["photos"] = new JsonArray([.. reading.Photos.Select(photo => Without(new()
        {
            ["file"] = photo.FileName, ["sha256"] = photo.Sha256, ["light"] = photo.Light == Light.Back ? "back" : "front",
            ["path"] = photo.Path, ["annotatedPath"] = photo.AnnotatedPath,
        }))]),
        ["recommendations"] = new JsonArray([.. reading.Recommendations.Select(Of)]),
    });

    /// <summary>A recommendation, with the fields of reading.json.</summary>
    public static JsonObject Of(RecommendationEntry recommendation) => Without(new()
    {
        ["goal"] = recommendation.Goal,
        ["powerPercent"] = recommendation.PowerPercent,
        ["speedMmPerMin"] = recommendation.SpeedMmPerMin,
        ["card"] = recommendation.Card,
        ["passes"] = recommendation.Passes,
        ["focusOffsetMm"] = recommendation.FocusOffsetMm,
        ["lineIntervalMm"] = recommendation.LineIntervalMm,
        ["reason"] = recommendation.Reason,
        ["confidence"] = recommendation.Confidence,
        ["interval"] = recommendation.Interval is { } interval
            ? new JsonObject
            {
                ["quantity"] = interval.Quantity, ["value"] = interval.Value, ["low"] = interval.Low, ["high"] = interval.High,
            }
            : null,
    });

    /// <summary>How a card's cells are burned.</summary>
    public static string Process(CardEntry card) => EnumName.Of(card.Process);

    /// <summary>A time, UTC, ISO 8601.</summary>
    public static string? Time(DateTimeOffset? time) =>
        time?.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", System.Globalization.CultureInfo.InvariantCulture);

    /// <summary>What is not known is absent, as in every file of CardScan.</summary>
    public static JsonObject Without(JsonObject item)
    {
        foreach (string name in item.Where(field => field.Value is null).Select(field => field.Key).ToArray()) item.Remove(name);
        return item;
    }
}
