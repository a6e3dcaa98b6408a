using System.Text.Json;
using System.Text.Json.Serialization;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>How photos of the queue are to be read: what of a <see cref="ReadRequest"/> means the same on every computer.</summary>
internal sealed record QueuedRequest
{
    /// <summary>The plans that were named, each as its file has it.</summary>
    public string[] Plans { get; init; } = [];

    /// <inheritdoc cref="ReadRequest.Card"/>
    public int? Card { get; init; }

    /// <inheritdoc cref="ReadRequest.IsAlone"/>
    public bool IsAlone { get; init; }

    /// <inheritdoc cref="ReadRequest.HasPlainTones"/>
    public bool HasPlainTones { get; init; }

    /// <inheritdoc cref="ReadRequest.Light"/>
    public Light? Light { get; init; }

    /// <inheritdoc cref="ReadRequest.Scoring"/>
    public ScoringOptions Scoring { get; init; } = new();

    /// <summary>As the queue keeps it.</summary>
    public byte[] ToJson() => JsonSerializer.SerializeToUtf8Bytes(this, QueueJson.Default.QueuedRequest);

    /// <summary>One that was kept.</summary>
    public static QueuedRequest Of(ReadOnlyMemory<byte> json) => JsonSerializer.Deserialize(json.Span, QueueJson.Default.QueuedRequest)!;
}

[JsonSerializable(typeof(QueuedRequest))]
internal sealed partial class QueueJson : JsonSerializerContext;
