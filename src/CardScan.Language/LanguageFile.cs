using System.Text.Json;

namespace CardScan.Language;

/// <summary>The sentences of one language, from <c>Messages.xx.json</c>: an object of objects of sentences.</summary>
/// <remarks>
/// A sentence is <c>area.code</c> or deeper; the codes that files hold have no area, so
/// <c>"codes: Warnings": { "soft": "…" }</c> is simply <c>soft</c>.
/// </remarks>
internal sealed class LanguageFile
{
    /// <summary>How the objects of the sentences whose codes stand in files begin; their names are no part of the codes.</summary>
    private const string Codes = "codes: ";

    private readonly Dictionary<string, string> _texts = [];
    private readonly List<(string Group, string Code)> _ofFiles = [];
    private readonly Dictionary<string, Template> _templates = [];
    private readonly FigureText _figures;

    private LanguageFile(string name) => (Name, _figures) = (name, new(this));

    /// <summary>English, which every other language falls back to.</summary>
    public static LanguageFile English { get; } = Load("en");

    /// <summary>Name of the language, as in <c>xml:lang</c>.</summary>
    public string Name { get; }

    /// <summary>All codes.</summary>
    public IEnumerable<string> All => _texts.Keys.Concat(_templates.Keys).Distinct();

    /// <summary>The codes of those that stand in files with the group they are listed in, in the order of the language file.</summary>
    public IReadOnlyList<(string Group, string Code)> OfFiles => _ofFiles;

    /// <summary>Whether it has a sentence of this code.</summary>
    public bool Has(string code) => _texts.ContainsKey(code) || _templates.ContainsKey(code);

    /// <summary>Reads a language file.</summary>
    /// <exception cref="FormatException">It is not such a file.</exception>
    public static LanguageFile Parse(string name, ReadOnlyMemory<byte> utf8)
    {
        LanguageFile file = new(name);
        using JsonDocument document =
            JsonDocument.Parse(utf8, new() { CommentHandling = JsonCommentHandling.Skip, AllowTrailingCommas = true });
        foreach (JsonProperty area in document.RootElement.EnumerateObject())
        {
            bool isOfFiles = area.Name.StartsWith(Codes, StringComparison.Ordinal);
            int before = file._texts.Count;
            file.Add(isOfFiles ? "" : area.Name, area.Value);
            if (isOfFiles) file._ofFiles.AddRange(file._texts.Keys.Skip(before).Select(code => (area.Name[Codes.Length..], code)));
        }

        return file;
    }

    /// <summary>The same language with its words passed through a function.</summary>
    public LanguageFile Map(string name, Func<string, string> words)
    {
        LanguageFile mapped = new(name);
        foreach (string code in All.ToArray()) mapped._templates[code] = TemplateOf(code).Map(words);
        return mapped;
    }

    /// <summary>The sentence of a code with its values.</summary>
    /// <exception cref="KeyNotFoundException">There is no such sentence, or a value that it needs is missing.</exception>
    public string Say(string code, IEnumerable<(string Name, Figure Value)> values) => TemplateOf(code).Fill(Dictionary(values), _figures);

    /// <summary>The sentence as it was written.</summary>
    public Template TemplateOf(string code)
    {
        lock (_templates)
        {
            if (_templates.TryGetValue(code, out Template? template)) return template;
            if (!_texts.TryGetValue(code, out string? text))
                return this == English ? throw new KeyNotFoundException($"no sentence \"{code}\"") : English.TemplateOf(code);
            return _templates[code] = Template.Parse(text);
        }
    }

    private void Add(string path, JsonElement found)
    {
        if (found.ValueKind == JsonValueKind.String)
        {
            _texts.Add(path, found.GetString()!);
            return;
        }

        foreach (JsonProperty inner in found.EnumerateObject()) Add(path.Length == 0 ? inner.Name : $"{path}.{inner.Name}", inner.Value);
    }

    private static Dictionary<string, Figure> Dictionary(IEnumerable<(string Name, Figure Value)> values)
    {
        Dictionary<string, Figure> byName = [];
        foreach ((string name, Figure value) in values) byName[name] = value;
        return byName;
    }

    private static LanguageFile Load(string name)
    {
        using Stream stream = typeof(LanguageFile).Assembly.GetManifestResourceStream($"Messages.{name}.json")!;
        byte[] bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return Parse(name, bytes);
    }
}
