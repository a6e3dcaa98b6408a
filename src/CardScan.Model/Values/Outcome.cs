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
/// <param name="Seen">What was found, where; one sentence without the final stop.</param>
/// <param name="Remedy">What to do; one sentence without the final stop.</param>
public sealed record Refusal(RefusalKind Kind, string Code, string Seen, string Remedy)
{
    /// <summary>A refusal of the command line or of a file's content.</summary>
    public static Refusal OfInput(string code, string seen, string remedy) => new(RefusalKind.WrongInput, code, seen, remedy);

    /// <summary>A refusal of a photo.</summary>
    public static Refusal OfPhoto(string code, string seen, string remedy) => new(RefusalKind.UnmeasurablePhoto, code, seen, remedy);

    /// <summary>A refusal because a file or folder could not be read or written.</summary>
    public static Refusal OfPlace(string code, string seen, string remedy) => new(RefusalKind.UnusablePlace, code, seen, remedy);

    /// <summary>The same refusal with the file named in front of what was seen.</summary>
    public Refusal In(string file) => this with { Seen = $"{file}: {Seen}" };

    /// <summary>One line: what was seen, then the remedy; line breaks and the like in what was seen become spaces.</summary>
    public override string ToString() => string.Concat($"{Seen}: {Remedy}".Select(c => char.IsControl(c) ? ' ' : c));
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
