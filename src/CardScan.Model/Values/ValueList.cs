using System.Collections;
using System.Runtime.CompilerServices;

namespace CardScan.Model;

/// <summary>An immutable list that equals another when its elements do, so that records holding lists compare by value.</summary>
/// <typeparam name="T">Element type; compared with its default equality.</typeparam>
[CollectionBuilder(typeof(ValueList), nameof(ValueList.Create))]
public sealed class ValueList<T> : IReadOnlyList<T>, IEquatable<ValueList<T>>
{
    private readonly T[] _items;

    internal ValueList(ReadOnlySpan<T> items) => _items = items.ToArray();

    /// <summary>The list without elements.</summary>
    public static ValueList<T> Empty { get; } = new([]);

    /// <inheritdoc/>
    public int Count => _items.Length;

    /// <inheritdoc/>
    public T this[int index] => _items[index];

    /// <inheritdoc/>
    public IEnumerator<T> GetEnumerator() => ((IEnumerable<T>)_items).GetEnumerator();

    IEnumerator IEnumerable.GetEnumerator() => GetEnumerator();

    /// <inheritdoc/>
    public bool Equals(ValueList<T>? other) => other is not null && _items.AsSpan().SequenceEqual(other._items);

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as ValueList<T>);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        HashCode hash = default;
        foreach (T item in _items) hash.Add(item);
        return hash.ToHashCode();
    }

    /// <inheritdoc/>
    public override string ToString() => $"[{string.Join(", ", _items)}]";
}

/// <summary>Makes <see cref="ValueList{T}"/>s, also from collection expressions.</summary>
public static class ValueList
{
    /// <summary>Copies the elements into a list.</summary>
    public static ValueList<T> Create<T>(ReadOnlySpan<T> items) => items.IsEmpty ? ValueList<T>.Empty : new(items);

    /// <summary>Copies the sequence into a list.</summary>
    public static ValueList<T> ToValueList<T>(this IEnumerable<T> items) => Create<T>(items.ToArray());
}
