using CardScan.Language;

namespace CardScan.Model;

/// <summary>Whose fault a refusal is, and so which exit code it gets.</summary>
public enum RefusalKind
{
    /// <summary>The command line, or what a file holds, is wrong.</summary>
    WrongInput,

    /// <summary>The photo is a picture, but it cannot be measured honestly.</summary>
    UnmeasurablePhoto,

    /// <summary>A file or folder could not be read or written.</summary>
    UnusablePlace,
}

/// <summary>Why something that came from outside was not accepted, and what to do about it.</summary>
/// <param name="Kind">Wrong input, a photo that cannot be measured, or a place that cannot be used.</param>
/// <param name="Code">Stable, machine-readable, kebab-case; listed in docs/messages.md.</param>
/// <param name="Values">The figures of its two sentences.</param>
public sealed record Refusal(RefusalKind Kind, string Code, ValueMap<Figure> Values)
{
    /// <summary>The file or place that it is about, named in front of what was seen; null where the sentence names it.</summary>
    public string? Where { get; init; }

    /// <summary>What was found, where, in a sentence.</summary>
    public string Seen { get => (Where is null ? "" : $"{Where}: ") + (field ?? Said("seen")); init; }

    /// <summary>What to do, in a sentence.</summary>
    public string Remedy { get => field ?? Said("remedy"); init; }

    /// <summary>A refusal of the command line or of a file's content.</summary>
    public static Refusal OfInput(string code, params IEnumerable<(string Name, Figure Value)> values) =>
        Of(RefusalKind.WrongInput, code, values);

    /// <summary>A refusal of a photo.</summary>
    public static Refusal OfPhoto(string code, params IEnumerable<(string Name, Figure Value)> values) =>
        Of(RefusalKind.UnmeasurablePhoto, code, values);

    /// <summary>A refusal because a file or folder could not be read or written.</summary>
    public static Refusal OfPlace(string code, params IEnumerable<(string Name, Figure Value)> values) =>
        Of(RefusalKind.UnusablePlace, code, values);

    /// <summary>The same refusal with the file named in front of what was seen.</summary>
    public Refusal In(string file) => this with { Where = Where is null ? file : $"{file}: {Where}" };

    /// <summary>One line: what was seen, then the remedy; line breaks and the like in what was seen become spaces.</summary>
    public override string ToString() =>
        string.Concat($"{Seen}{(Seen.EndsWith('.') ? "" : ":")} {Remedy}".Select(c => char.IsControl(c) ? ' ' : c));

    private static Refusal Of(RefusalKind kind, string code, IEnumerable<(string Name, Figure Value)> values) =>
        new(kind, code, new(values.Select(value => KeyValuePair.Create(value.Name, value.Value))));

    private string Said(string part) => Voice.Say($"{Code}.{part}", Values.Select(value => (value.Key, value.Value)));
}

/// <summary>A value, or the reason why there is none. What a file or photo can cause is a refusal, never an exception.</summary>
/// <typeparam name="T">Type of the value.</typeparam>
public sealed class Outcome<T>
{
    private readonly T? _value;

    private Outcome(T? value, Refusal? refusal) => (_value, Refusal) = (value, refusal);

    /// <summary>The reason, or null where there is a value.</summary>
    public Refusal? Refusal { get; }

    /// <summary>True when there is a reason instead of a value.</summary>
    public bool IsRefused => Refusal is not null;

    /// <summary>The value.</summary>
    /// <exception cref="InvalidOperationException">It was refused; check <see cref="IsRefused"/> first.</exception>
    public T Value => Refusal is null ? _value! : throw new InvalidOperationException($"Refused ({Refusal.Code}): check IsRefused first.");

    /// <summary>Wraps a value.</summary>
    public static implicit operator Outcome<T>(T value) => new(value, null);

    /// <summary>Wraps a refusal.</summary>
    public static implicit operator Outcome<T>(Refusal refusal) => new(default, refusal);
}
