using System.Globalization;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>What is wrong with a field of a file: its path, what was found and what was expected.</summary>
/// <param name="Path">Path of the field.</param>
/// <param name="Code">Code of the sentence.</param>
/// <param name="Values">Its values besides the path.</param>
public sealed record FieldFault(string Path, string Code, ValueMap<Figure> Values)
{
    /// <summary>A fault with the values of its sentence.</summary>
    internal FieldFault(string path, string code, params IEnumerable<(string Name, Figure Value)> values)
        : this(path, code, new ValueMap<Figure>(values.Select(value => KeyValuePair.Create(value.Name, value.Value)))) { }

    /// <summary>A number that the field may not hold; it is told with all of its digits.</summary>
    internal static FieldFault Of(string path, double found, Phrase expected) =>
        Of(path, found.ToString(CultureInfo.InvariantCulture), expected);

    /// <summary>A text that the field may not hold.</summary>
    internal static FieldFault Of(string path, string found, Figure expected) =>
        new(path, "rule.value", ("found", found), ("expected", expected));

    /// <summary>A field that is not there.</summary>
    internal static FieldFault Missing(string path, Figure expected) => new(path, "rule.missing", ("expected", expected));

    /// <summary>A list or a text without content.</summary>
    internal static FieldFault Empty(string path, Figure expected) => new(path, "rule.empty", ("expected", expected));

    /// <summary>A list of the wrong length.</summary>
    internal static FieldFault Count(string path, int found, Figure expected) =>
        new(path, "rule.count", ("found", found), ("expected", expected));

    /// <summary>The same fault of a part of something larger.</summary>
    /// <param name="parent">Path of what holds the part.</param>
    public FieldFault Under(string parent) => this with { Path = $"{parent}.{Path}" };

    /// <summary>The sentence, for a message.</summary>
    public Phrase ToFigure() => new(Code, [("path", Path), .. Values.Select(value => (value.Key, value.Value))]);
}

/// <summary>What a field may hold, for a <see cref="FieldFault"/>.</summary>
internal static class Expected
{
    /// <summary>A kind of value, by its key in the message.</summary>
    public static Phrase Kind(string kind) => new("rule.kind", ("kind", kind));

    /// <summary>One of some names.</summary>
    public static Phrase OneOf(IEnumerable<string> names) =>
        new("rule.one-of", ("names", Figures.List(names.Select(name => $"\"{name}\""))));

    /// <summary>A number of a range, both ends included.</summary>
    public static Phrase Between(double least, double most, Unit unit = Unit.None) =>
        new("rule.between", ("least", Figures.In(unit, least)), ("most", Figures.In(unit, most)));

    /// <summary>A number above zero.</summary>
    public static Phrase Positive(Unit unit) => new("rule.over", ("least", Figures.In(unit, 0)));

    /// <summary>A number above zero, up to a limit.</summary>
    public static Phrase PositiveTo(double most, Unit unit) =>
        new("rule.over-to", ("least", Figures.In(unit, 0)), ("most", Figures.In(unit, most)));

    /// <summary>Zero or more.</summary>
    public static Phrase NotNegative { get; } = new("rule.at-least", ("least", 0));

    /// <summary>Zero or more, up to a limit.</summary>
    public static Phrase NotNegativeTo(double most) => new("rule.at-least-to", ("least", 0), ("most", Figures.In(Unit.None, most)));

    /// <summary>A limit.</summary>
    public static Phrase AtMost(int most) => new("rule.at-most", ("most", most));
}
