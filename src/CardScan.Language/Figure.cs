using System.Text.Json.Serialization;

namespace CardScan.Language;

/// <summary>A typed value in a message: what stands in a sentence beside its words. <see cref="Figures"/> makes them.</summary>
[JsonConverter(typeof(FigureConverter))]
public abstract record Figure
{
    /// <summary>A count.</summary>
    public static implicit operator Figure(int count) => new Number(count, Unit.None);

    /// <summary>A name, a path, something somebody wrote; or the key of a branch of the sentence.</summary>
    public static implicit operator Figure(string text) => new Word(text);
}

/// <summary>A number with its unit and, where it has one, its interval.</summary>
/// <param name="Value">The number, in the unit.</param>
/// <param name="Unit">What it counts or measures.</param>
/// <param name="Low">Lower limit of its 95 % interval; null where it has none.</param>
/// <param name="High">Upper limit; null where it has none.</param>
public sealed record Number(double Value, Unit Unit, double? Low = null, double? High = null) : Figure;

/// <summary>
/// A text that is no part of the language: a name, a path, something somebody wrote; or the key of a branch of the sentence.
/// </summary>
/// <param name="Text">The text.</param>
public sealed record Word(string Text) : Figure;

/// <summary>
/// An option of the command line, which is a field on the page: each reader is told the name that stands in front of them.
/// </summary>
/// <param name="Text">Its name, with the dashes.</param>
public sealed record OptionName(string Text) : Figure;

/// <summary>A setting of the machine.</summary>
/// <param name="SpeedMmPerMin">Speed, mm/min.</param>
/// <param name="PowerPercent">Percent of full power.</param>
/// <param name="Passes">Passes, 1 or more; told where they are not 1.</param>
/// <param name="LineIntervalMm">Line interval, mm; null where it is not told.</param>
/// <param name="FocusOffsetMm">Focus offset, mm; null where it is not told.</param>
public sealed record SettingFigure(double SpeedMmPerMin, double PowerPercent, int Passes = 1, double? LineIntervalMm = null,
    double? FocusOffsetMm = null) : Figure;

/// <summary>Another message inside a message.</summary>
public sealed record Phrase : Figure
{
    /// <param name="code">Code of the message.</param>
    /// <param name="values">Its values.</param>
    public Phrase(string code, params IEnumerable<(string Name, Figure Value)> values) => (Code, Values) = (code, [.. values]);

    /// <summary>Code of the message.</summary>
    public string Code { get; }

    /// <summary>Its values.</summary>
    public IReadOnlyList<(string Name, Figure Value)> Values { get; }

    /// <inheritdoc/>
    public bool Equals(Phrase? other) => other is not null && Code == other.Code && Values.SequenceEqual(other.Values);

    /// <inheritdoc/>
    public override int GetHashCode() => Code.GetHashCode(StringComparison.Ordinal);
}

/// <summary>Several figures, told one after the other.</summary>
public sealed record Listing(IReadOnlyList<Figure> Items) : Figure
{
    /// <inheritdoc/>
    public bool Equals(Listing? other) => other is not null && Items.SequenceEqual(other.Items);

    /// <inheritdoc/>
    public override int GetHashCode() => Items.Count;
}
