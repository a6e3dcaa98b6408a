using System.Text.Json.Serialization;
using CardScan.Language;

namespace CardScan.Model;

/// <summary>Something told to a maker: a code, the values that belong to it, and the sentence that the voice makes of both.</summary>
public abstract record Remark : Extensible
{
    /// <summary>The sentence of a file whose words this version would not choose; null where it makes the same.</summary>
    private readonly string? _said;

    /// <summary>A remark of this version.</summary>
    protected Remark(string code, IEnumerable<(string Name, Figure Value)> values)
    {
        (Code, _said) = (code, null);
        ValueMap<Figure> map = new(values.Select(value => KeyValuePair.Create(value.Name, value.Value)));
        Values = map.Count == 0 ? null : map;
    }

    /// <summary>A remark of a file.</summary>
    protected Remark(string code, string message, ValueMap<Figure>? values)
    {
        (Code, Values) = (code, values);
        _said = Said == message ? null : message;
    }

    /// <summary>Stable, machine-readable, kebab-case; listed in docs/messages.md.</summary>
    [JsonPropertyOrder(-3)]
    public string Code { get; }

    /// <summary>What was found and what to do, for a maker.</summary>
    [JsonPropertyOrder(-2)]
    public string Message => Said ?? _said ?? Code;

    /// <summary>The figures in the sentence, by name; null where there are none.</summary>
    [JsonPropertyOrder(-1)]
    public ValueMap<Figure>? Values { get; }

    /// <summary>The sentence that this version makes; null where it knows no such code, or a value is missing.</summary>
    private string? Said => Voice.TrySay(Code, Values?.Select(value => (value.Key, value.Value)) ?? []);
}
