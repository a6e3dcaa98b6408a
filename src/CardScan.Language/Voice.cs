namespace CardScan.Language;

/// <summary>Says everything that a person reads: a code and its values go in, a sentence of the language comes out.</summary>
/// <remarks>
/// The sentences stand in <c>Messages.en.json</c>. The language is that of the flow of execution that asks, as the
/// platform's own <see cref="System.Globalization.CultureInfo.CurrentUICulture"/> is.
/// </remarks>
public static class Voice
{
    private static readonly AsyncLocal<LanguageFile?> Spoken = new();

    private static readonly AsyncLocal<Manner> SpokenManner = new();

    /// <summary>Tests fail at a missing sentence or value (Directory.Build.props).</summary>
    private static bool IsStrict => AppContext.TryGetSwitch("CardScan.StrictMessages", out bool isStrict) && isStrict;

    private static LanguageFile Current => Spoken.Value ?? LanguageFile.English;

    /// <summary>Name of the language, as in <c>html lang</c>.</summary>
    public static string Language => Current.Name;

    /// <summary>The unit in which speeds are told.</summary>
    public static SpeedUnit Speeds => SpokenManner.Value.Speeds;

    /// <summary>True where a sentence is read on the served page: it has fields and buttons in place of options and commands.</summary>
    public static bool IsOnPage => SpokenManner.Value.IsOnPage;

    /// <summary>Tells speeds in another unit from here on, until the returned object is disposed of.</summary>
    /// <param name="unit">The unit.</param>
    public static IDisposable TellSpeedsIn(SpeedUnit unit) => Speak(SpokenManner.Value with { Speeds = unit });

    /// <summary>Speaks to a reader of the served page from here on, until the returned object is disposed of.</summary>
    public static IDisposable SpeakOnPage() => Speak(SpokenManner.Value with { IsOnPage = true });

    /// <summary>
    /// Tells everything as it stands in files, whatever is chosen and wherever it is asked for, until the returned object is disposed of.
    /// </summary>
    public static IDisposable WriteFiles() => Speak(default(Manner));

    /// <summary>The sentence of a code.</summary>
    /// <param name="code">A code of <c>Messages.en.json</c>.</param>
    /// <param name="values">The values that the sentence needs, by name.</param>
    /// <returns>
    /// The sentence. A missing one is no reason to lose a measurement: then the code and the values stand in, unless
    /// tests ask for strictness.
    /// </returns>
    public static string Say(string code, params IEnumerable<(string Name, Figure Value)> values)
    {
        if (IsStrict) return Current.Say(code, values);
        return TrySay(code, values) ?? $"{code} ({string.Join(", ", values.Select(value => $"{value.Name}: {Tell(value.Value)}"))})";
    }

    /// <summary>
    /// The sentence of a code, or null where this version has none or a value is missing: of a file that another version wrote.
    /// </summary>
    /// <param name="code">The code.</param>
    /// <param name="values">The values.</param>
    public static string? TrySay(string code, IEnumerable<(string Name, Figure Value)> values)
    {
        if (!Knows(code)) return null;
        try
        {
            return Current.Say(code, values);
        }
        catch (KeyNotFoundException)
        {
            return null;
        }
    }

    /// <summary>A message, or null where this version has none.</summary>
    /// <param name="phrase">Its code and values.</param>
    public static string? TrySay(Phrase phrase) => TrySay(phrase.Code, phrase.Values);

    /// <summary>Whether there is a sentence of this code.</summary>
    public static bool Knows(string code) => LanguageFile.English.Has(code);

    /// <summary>A value as it stands in every sentence.</summary>
    public static string Tell(Figure figure) => new FigureText(Current).Of(figure);

    /// <summary>A number as it stands in every sentence, without its unit.</summary>
    public static string TellBare(Number number) => new FigureText(Current).Of(number, isBare: true);

    /// <summary>Speaks another language from here on, until the returned object is disposed of.</summary>
    internal static IDisposable Speak(LanguageFile language)
    {
        LanguageFile? before = Spoken.Value;
        Spoken.Value = language;
        return new Ending(() => Spoken.Value = before);
    }

    private static Ending Speak(Manner manner)
    {
        Manner before = SpokenManner.Value;
        SpokenManner.Value = manner;
        return new Ending(() => SpokenManner.Value = before);
    }

    /// <summary>How things are said: in the units of files and to a reader of the terminal, unless something else is chosen.</summary>
    private readonly record struct Manner(SpeedUnit Speeds, bool IsOnPage);

    private sealed class Ending(Action end) : IDisposable
    {
        public void Dispose() => end();
    }
}
