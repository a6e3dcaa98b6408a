namespace CardScan.Language;

/// <summary>
/// A sentence with places for values, in the syntax of ICU MessageFormat: <c>{name}</c>, <c>{name, plural, …}</c>,
/// <c>{name, select, …}</c>.
/// </summary>
/// <remarks>
/// The part of the syntax that the messages need, since no kept .NET library reads it: arguments; <c>plural</c> with
/// <c>=N</c>, <c>one</c>, <c>other</c> and <c>#</c>; <c>select</c>, whose branch <c>none</c> takes a value that is not
/// there; the styles <c>bare</c>, which tells a number without its unit, and <c>and</c>, which puts that
/// word before the last item of a list. Three places need no value: <c>{speed-unit}</c>, the unit that speeds are told in;
/// <c>{--cell}</c>, an option by the name that its reader knows it by; <c>{said-on, select, page {…} other {…}}</c>, for what is
/// done otherwise on the served page. Unicode Technical Standard 35, part "Message
/// Format" (the syntax before version 2). Apostrophes are letters; braces cannot be said.
/// </remarks>
internal sealed class Template
{
    private readonly IReadOnlyList<Part> _parts;

    private Template(IReadOnlyList<Part> parts) => _parts = parts;

    /// <summary>Reads a sentence.</summary>
    /// <exception cref="FormatException">A brace is not closed, or a kind of argument is unknown.</exception>
    public static Template Parse(string text)
    {
        int at = 0;
        Template template = Parse(text, ref at);
        return at == text.Length ? template : throw new FormatException($"a brace too many at {at}: {text}");
    }

    /// <summary>The names of the values that it cannot do without.</summary>
    public IEnumerable<string> Needs => _parts.SelectMany(part => part.Needs).Distinct();

    /// <summary>All names of values that it knows.</summary>
    public IEnumerable<string> Names => _parts.SelectMany(part => part.Names).Distinct();

    /// <summary>The sentence with its values in their places.</summary>
    public string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures) => Fill(values, figures, null);

    private string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count) =>
        string.Concat(_parts.Select(part => part.Fill(values, figures, count)));

    /// <summary>The sentence for a reader of documents: values by name in italics, branches side by side.</summary>
    internal string Describe() => string.Concat(_parts.Select(part => part.Describe()));

    /// <summary>The same sentence with the words, not the values, passed through a function.</summary>
    internal Template Map(Func<string, string> words) => new([.. _parts.Select(part => part.Map(words))]);

    private static Template Parse(string text, ref int at)
    {
        List<Part> parts = [];
        while (at < text.Length && text[at] != '}')
        {
            if (text[at] == '{')
            {
                at++;
                parts.Add(ReadArgument(text, ref at));
                continue;
            }

            int end = text.AsSpan(at).IndexOfAny('{', '}') is >= 0 and int found ? at + found : text.Length;
            parts.Add(new Words(text[at..end]));
            at = end;
        }

        return new(parts);
    }

    private static Part ReadArgument(string text, ref int at)
    {
        string name = Token(text, ref at), kind = "";
        if (Skips(text, ref at, ',')) kind = Token(text, ref at);
        if (kind is "" or "bare" or "and")
        {
            Expect(text, ref at, '}');
            return name == SpeedUnitPart.Name ? new SpeedUnitPart()
                : name.StartsWith("--", StringComparison.Ordinal) ? new OptionPart(name)
                : new Argument(name, kind);
        }

        if (kind is not ("plural" or "select")) throw new FormatException($"{{{name}, {kind}}} is neither plural nor select: {text}");
        Expect(text, ref at, ',');
        List<(string Key, Template Branch)> branches = [];
        while (!Skips(text, ref at, '}'))
        {
            string key = Token(text, ref at);
            Expect(text, ref at, '{');
            Template branch = Parse(text, ref at);
            Expect(text, ref at, '}');
            branches.Add((key, branch));
        }

        if (branches.All(branch => branch.Key != "other") && kind == "plural")
            throw new FormatException($"{{{name}}} has no branch \"other\": {text}");
        return new Choice(name, kind == "plural", branches);
    }

    private static string Token(string text, ref int at)
    {
        SkipSpace(text, ref at);
        int start = at;
        while (at < text.Length && (char.IsLetterOrDigit(text[at]) || text[at] is '-' or '_' or '=' or '.')) at++;
        return at > start ? text[start..at] : throw new FormatException($"a name is missing at {at}: {text}");
    }

    private static bool Skips(string text, ref int at, char wanted)
    {
        SkipSpace(text, ref at);
        if (at >= text.Length) throw new FormatException($"a brace is not closed: {text}");
        if (text[at] != wanted) return false;
        at++;
        return true;
    }

    private static void Expect(string text, ref int at, char wanted)
    {
        if (!Skips(text, ref at, wanted)) throw new FormatException($"'{wanted}' is missing at {at}: {text}");
    }

    private static void SkipSpace(string text, ref int at)
    {
        while (at < text.Length && char.IsWhiteSpace(text[at])) at++;
    }

    private abstract record Part
    {
        public virtual IEnumerable<string> Needs => [];

        public virtual IEnumerable<string> Names => [];

        public abstract string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count);

        public abstract string Describe();

        public virtual Part Map(Func<string, string> words) => this;
    }

    private sealed record Words(string Text) : Part
    {
        public override string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count) =>
            count is null ? Text : Text.Replace("#", count, StringComparison.Ordinal);

        public override string Describe() => Text.Replace("#", "N", StringComparison.Ordinal);

        public override Part Map(Func<string, string> words) => new Words(words(Text));
    }

    private sealed record Argument(string Name, string Style) : Part
    {
        public override IEnumerable<string> Needs => [Name];

        public override IEnumerable<string> Names => [Name];

        public override string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count) =>
            values.TryGetValue(Name, out Figure? figure)
                ? figures.Of(figure, isBare: Style == "bare", isSentence: Style == "and")
                : throw new KeyNotFoundException($"the message has no value \"{Name}\"");

        public override string Describe() => $"*{Name}*";
    }

    /// <summary>The unit that speeds are told in: no sentence is given it.</summary>
    private sealed record SpeedUnitPart : Part
    {
        public const string Name = "speed-unit";

        public override string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count) => figures.SpeedUnitName;

        public override string Describe() => "mm/min";
    }

    /// <summary>An option; with "=" behind it, its value follows.</summary>
    private sealed record OptionPart(string Name) : Part
    {
        public override string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count) => Told(figures);

        public override string Describe() => Told(new(LanguageFile.English));

        private string Told(FigureText figures) =>
            $"{figures.Of(new OptionName(Name.TrimEnd('=')))}{(!Name.EndsWith('=') ? "" : Voice.IsOnPage ? " " : "=")}";
    }

    private sealed record Choice(string Name, bool IsPlural, IReadOnlyList<(string Key, Template Branch)> Branches) : Part
    {
        /// <summary>Tells the served page from everything else.</summary>
        private const string SaidOn = "said-on";

        public override IEnumerable<string> Needs => IsPlural ? [Name] : [];

        public override IEnumerable<string> Names => [Name, .. Branches.SelectMany(branch => branch.Branch.Names)];

        public override string Fill(IReadOnlyDictionary<string, Figure> values, FigureText figures, string? count)
        {
            Figure? figure = Name == SaidOn ? Reader : values.GetValueOrDefault(Name);
            if (IsPlural)
                count = figure is Number number
                    ? figures.Of(number, isBare: true)
                    : throw new KeyNotFoundException($"the message has no number \"{Name}\"");
            Template? chosen = KeysOf(figure).Select(BranchOf).FirstOrDefault(branch => branch is not null);
            return chosen?.Fill(values, figures, count) ?? throw new KeyNotFoundException($"\"{Name}\" has no branch for {figure}");
        }

        public override string Describe()
        {
            // Of a plural the reader wants the usual form alone.
            if (IsPlural) return Branches.First(branch => branch.Key == "other").Branch.Describe();
            if (Name == SaidOn) return KeysOf(Reader).Select(BranchOf).First(branch => branch is not null)!.Describe();
            string[] texts = [.. Branches.Select(branch => branch.Branch.Describe()).Where(text => text.Length > 0)];
            return $"[{string.Join(" | ", texts)}]";
        }

        public override Part Map(Func<string, string> words) =>
            this with { Branches = [.. Branches.Select(branch => (branch.Key, branch.Branch.Map(words)))] };

        private static Word Reader => new(Voice.IsOnPage ? "page" : "terminal");

        private Template? BranchOf(string key) => Branches.FirstOrDefault(branch => branch.Key == key).Branch;

        private IEnumerable<string> KeysOf(Figure? figure) => figure switch
        {
            null => IsPlural ? [] : ["none", "other"],
            Number { Value: 1 } when IsPlural => ["=1", "one", "other"],
            Number number => [$"={number.Value:0.####}", "other"],
            Word word => [word.Text, "other"],
            _ => ["other"],
        };
    }
}
