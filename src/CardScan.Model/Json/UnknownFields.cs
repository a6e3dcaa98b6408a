using System.Text.Json;

namespace CardScan.Model;

/// <summary>
/// Fields of a file that this version does not know. They are kept and written again, so that a newer program's
/// file survives an older one. Equal when names and values are, whatever the order.
/// </summary>
public sealed class UnknownFields : Dictionary<string, JsonElement>, IEquatable<UnknownFields>
{
    /// <inheritdoc/>
    public bool Equals(UnknownFields? other) =>
        other is not null && Count == other.Count
        && this.All(field => other.TryGetValue(field.Key, out JsonElement value) && JsonElement.DeepEquals(field.Value, value));

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as UnknownFields);

    /// <inheritdoc/>
    public override int GetHashCode() => Count;
}
