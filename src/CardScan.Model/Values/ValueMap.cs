using System.Collections;
using System.Diagnostics.CodeAnalysis;

namespace CardScan.Model;

/// <summary>An immutable map from names that equals another when names and values do; it keeps the order it was made in.</summary>
/// <typeparam name="T">Type of the values; compared with its default equality.</typeparam>
public sealed class ValueMap<T> : IReadOnlyDictionary<string, T>, IEquatable<ValueMap<T>>
{
    private readonly OrderedDictionary<string, T> _items;

    /// <summary>Copies the pairs; a later pair of the same name wins.</summary>
    public ValueMap(IEnumerable<KeyValuePair<string, T>> items)
    {
        ArgumentNullException.ThrowIfNull(items);
        _items = [];
        foreach ((string key, T value) in items) _items[key] = value;
    }

    /// <summary>The map without entries.</summary>
    public static ValueMap<T> Empty { get; } = new([]);

    /// <inheritdoc/>
    public int Count => _items.Count;

    /// <inheritdoc/>
    public IEnumerable<string> Keys => _items.Keys;

    /// <inheritdoc/>
    public IEnumerable<T> Values => _items.Values;

    /// <inheritdoc/>
    public T this[string key] => _items[key];

    /// <inheritdoc/>
    public bool ContainsKey(string key) => _items.ContainsKey(key);

    /// <inheritdoc/>
    public bool TryGetValue(string key, [MaybeNullWhen(false)] out T value) => _items.TryGetValue(key, out value);

    /// <inheritdoc/>
    public IEnumerator<KeyValuePair<string, T>> GetEnumerator() => _items.GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <inheritdoc/>
    public bool Equals(ValueMap<T>? other) =>
        other is not null && Count == other.Count
        && _items.All(item => other.TryGetValue(item.Key, out T? value) && EqualityComparer<T>.Default.Equals(item.Value, value));

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ValueMap<T>);

    /// <inheritdoc/>
    public override int GetHashCode() => Count;
}
