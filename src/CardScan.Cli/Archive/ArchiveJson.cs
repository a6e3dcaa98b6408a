using System.Text.Json.Nodes;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>What the archive holds, for other programs (docs/archive.md, "JSON").</summary>
internal static class ArchiveJson
{
    /// <summary>A card.</summary>
    public static JsonObject Of(CardEntry card) => JsonText.Without(new()
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
        ["recommendations"] = JsonText.List(card.Recommendations.Select(Of)),
        ["tags"] = JsonText.List(card.Tags),
        ["warnings"] = Warnings(card),
    });

    /// <summary>What speaks against burning a card's material, beside its settings.</summary>
    public static JsonArray Warnings(CardEntry card) => JsonText.List(MaterialWords.Of(card.Material).Select(JsonText.Of));

    /// <summary>A reading.</summary>
    public static JsonObject Of(ReadingEntry reading) => JsonText.Without(new()
    {
        ["reading"] = reading.Name,
        ["card"] = $"c{reading.CardId}",
        ["readUtc"] = Time(reading.ReadUtc),
        ["isCurrent"] = reading.IsCurrent,
        ["report"] = reading.ReportPath,
        ["photos"] = new JsonArray([.. reading.Photos.Select(photo => JsonText.Without(new()
        {
            ["file"] = photo.FileName, ["sha256"] = photo.Sha256, ["light"] = photo.Light == Light.Back ? "back" : "front",
            ["path"] = photo.Path, ["annotatedPath"] = photo.AnnotatedPath,
        }))]),
        ["recommendations"] = JsonText.List(reading.Recommendations.Select(Of)),
    });

    /// <summary>A recommendation, with the fields of reading.json.</summary>
    public static JsonObject Of(RecommendationEntry recommendation) => JsonText.Without(new()
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

    /// <summary>A note.</summary>
    public static JsonObject Of(NoteEntry note) =>
        new() { ["on"] = note.On, ["text"] = note.Text, ["writtenUtc"] = Time(note.WrittenUtc) };

    /// <summary>How much of an archive went into a bundle or came out of one.</summary>
    public static JsonObject Of(BundlePart part) => new() { ["cards"] = part.Cards, ["readings"] = part.Readings };

    /// <summary>What was copied.</summary>
    public static JsonObject Of(CopiedArchive copied) =>
        new() { ["cards"] = copied.Cards, ["readings"] = copied.Readings, ["files"] = copied.Files };

    /// <summary>What a check found.</summary>
    public static JsonObject Of(ArchiveHealth health) => new()
    {
        ["isSound"] = health.IsSound, ["files"] = health.Files, ["readings"] = health.Readings,
        ["faults"] = JsonText.List(health.Faults), ["leftovers"] = JsonText.List(health.Leftovers),
    };

    /// <summary>What was or would be removed.</summary>
    public static JsonObject Of(PrunedPart part, bool isRemoved) => new()
    {
        ["isRemoved"] = isRemoved, ["cards"] = JsonText.List(part.Cards), ["readings"] = JsonText.List(part.Readings),
        ["files"] = JsonText.List(part.Files), ["bytes"] = part.SizeBytes,
    };

    /// <summary>How a card's cells are burned.</summary>
    public static string Process(CardEntry card) => EnumName.Of(card.Process);

    /// <summary>A time, UTC, ISO 8601.</summary>
    public static string? Time(DateTimeOffset? time) =>
        time?.UtcDateTime.ToString("yyyy-MM-dd'T'HH:mm:ss.fff'Z'", System.Globalization.CultureInfo.InvariantCulture);
}
