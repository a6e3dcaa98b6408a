using System.Text.Json.Serialization;

namespace CardScan.Archive;

/// <summary>What a bundle holds (docs/archive.md, "Bundles").</summary>
internal sealed record BundleManifest
{
    /// <summary>The format that this version writes.</summary>
    public const string CurrentFormat = $"{AnyFormat}1";

    /// <summary>How the format of every version begins.</summary>
    public const string AnyFormat = "cardscan-bundle/";

    public required string Format { get; init; }

    public required string MadeUtc { get; init; }

    public required IReadOnlyList<BundleCard> Cards { get; init; }

    public required IReadOnlyList<BundleReading> Readings { get; init; }

    public required IReadOnlyList<BundleBatch> Batches { get; init; }

    /// <summary>What was done to the machines of its cards; bundles of earlier versions tell nothing of it.</summary>
    public IReadOnlyList<BundleChange> MachineChanges { get; init => field = value ?? []; } = [];

    /// <summary>The zip file has no more entries: itself, and everything that is named here.</summary>
    [JsonIgnore]
    public long MostEntries => 1 + Cards.Count
        + Readings.Sum(reading => 1L + reading.Photos.Count + reading.Annotated.Count + (reading.Report is null ? 0 : 1));
}

/// <summary>The one thing in the manifest of every version.</summary>
internal sealed record BundleFormat(string? Format);

/// <summary>A card; its plan is <c>plans/SHA256.json</c>.</summary>
internal sealed record BundleCard
{
    public required string PlanSha256 { get; init; }

    public required string KeptUtc { get; init; }

    public string? ClosedUtc { get; init; }

    public required MakersPart Makers { get; init; }
}

/// <summary>A reading; it is <c>readings/SHA256.json</c>.</summary>
internal sealed record BundleReading
{
    public required string ReadingSha256 { get; init; }

    public required string PlanSha256 { get; init; }

    public required string ReadUtc { get; init; }

    /// <summary>Names of files in the bundle, by photo; null where one was not kept.</summary>
    public required IReadOnlyList<string?> Photos { get; init; }

    /// <summary>Likewise.</summary>
    public required IReadOnlyList<string?> Annotated { get; init; }

    public string? Report { get; init; }

    public required MakersPart Makers { get; init; }
}

/// <summary>A batch on which somebody wrote.</summary>
internal sealed record BundleBatch
{
    public required string Material { get; init; }

    public required string Name { get; init; }

    public required MakersPart Makers { get; init; }
}

/// <summary>Something that was done to a machine, by the clock of the workshop.</summary>
internal sealed record BundleChange
{
    public required string Machine { get; init; }

    public required double RatedOpticalWatts { get; init; }

    public required string DoneOn { get; init; }

    public required string What { get; init; }
}

/// <summary>Notes and tags of one thing.</summary>
internal sealed record MakersPart
{
    public required IReadOnlyList<BundleNote> Notes { get; init; }

    public required IReadOnlyList<string> Tags { get; init; }
}

/// <summary>A note.</summary>
internal sealed record BundleNote
{
    public required string Text { get; init; }

    public required string WrittenUtc { get; init; }
}

[JsonSourceGenerationOptions(
    PropertyNamingPolicy = JsonKnownNamingPolicy.CamelCase, WriteIndented = true, RespectNullableAnnotations = true,
    DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull)]
[JsonSerializable(typeof(BundleManifest))]
[JsonSerializable(typeof(BundleFormat))]
internal sealed partial class BundleJson : JsonSerializerContext;
