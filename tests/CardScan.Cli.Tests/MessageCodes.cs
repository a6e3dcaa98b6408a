using System.Reflection;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Cli.Tests;

/// <summary>
/// Finds the codes of refusals, warnings, advice and flags in C# sources. It would rather report too much: every
/// kebab-case literal of a stage is taken for a code unless it is known to be something else, and a code that cannot be
/// resolved is reported as it stands, so that no document can hold it.
/// </summary>
internal static partial class MessageCodes
{
    /// <summary>What an interpolated code may be completed with.</summary>
    private static readonly Dictionary<string, string[]> Completions = new(StringComparer.Ordinal)
    {
        ["{what}"] = ["plan", "reading", "machine", "material"],
        ["{flag}"] = [CellFlag.Glare, CellFlag.Clipped, CellFlag.OutOfFrame],
    };

    /// <summary>What looks like a code: attributes of the drawing, names of models, of goals, of the demo's cards, and of the folder a card's files go to.</summary>
    private static readonly string[] NoCodes =
        ["fill", "stroke", "engraved-birch", "engraved-birch-second", "penalised-logistic", "four-parameter-logistic", "rise-then-fall", "saturating-exponential", "card-{number}", .. Constants(typeof(Goal))];

    /// <summary>More attributes of the drawing.</summary>
    private static readonly string[] NoCodeStarts = ["data-", "stroke-"];

    /// <summary>The codes in some sources, each once, in order.</summary>
    /// <param name="sources">Texts of source files; constants of one may be used in another.</param>
    internal static string[] In(IEnumerable<string> sources)
    {
        string[] texts = [.. sources.Select(text => Comment().Replace(text, ""))];
        ILookup<string, string> constants = texts.SelectMany(text => Constant().Matches(text)).ToLookup(match => match.Groups["name"].Value, match => match.Groups["value"].Value, StringComparer.Ordinal);
        return [.. texts.SelectMany(text => InText(text, constants)).Concat(Constants(typeof(CellFlag))).Distinct().Order(StringComparer.Ordinal)];
    }

    private static IEnumerable<string> InText(string text, ILookup<string, string> constants)
    {
        IEnumerable<string> literals = Kebab().Matches(text).Select(match => match.Groups["code"].Value).Where(IsCode);
        // A single word is a code only where a code stands: first, before the sentence.
        IEnumerable<string> firsts = Refusal().Matches(text).Concat(NamedType().Matches(text)).SelectMany(match => Resolved(match.Groups["first"].Value, constants, isCertain: true))
            .Concat(TargetTyped().Matches(text).SelectMany(match => Resolved(match.Groups["first"].Value, constants, isCertain: false)).Where(IsCode));
        return literals.Concat(firsts).SelectMany(Completed);
    }

    private static bool IsCode(string code) => !NoCodes.Contains(code) && !NoCodeStarts.Any(start => code.StartsWith(start, StringComparison.Ordinal));

    private static IEnumerable<string> Resolved(string first, ILookup<string, string> constants, bool isCertain)
    {
        if (first.EndsWith('"')) return [first.TrimStart('$').Trim('"')];
        string[] values = [.. constants[first.Split('.')[^1]].Where(value => Word().IsMatch(value))];
        return values.Length > 0 ? values : isCertain ? [first] : [];
    }

    private static IEnumerable<string> Completed(string code)
    {
        string[] keys = [.. Completions.Keys.Where(key => code.Contains(key, StringComparison.Ordinal))];
        return keys.Length == 0 ? [code] : Completions[keys[0]].Select(value => code.Replace(keys[0], value, StringComparison.Ordinal));
    }

    private static IEnumerable<string> Constants(Type type) =>
        type.GetFields(BindingFlags.Public | BindingFlags.Static).Where(field => field.IsLiteral).Select(field => (string)field.GetRawConstantValue()!);

    [GeneratedRegex("""(?<=["(,{ ])\$?"(?<code>([a-z][a-z0-9]*|\{[A-Za-z.]+\})(-([a-z0-9]+|\{[A-Za-z.]+\}))+)\x22""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Kebab();

    // "string code" is the declaration.
    [GeneratedRegex("""\bOf(Input|Photo|Place)\(\s*(?!string\b)(?<first>\$?"[^"]*"|[A-Za-z_.]+)\s*,""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Refusal();

    [GeneratedRegex("""\bnew\s+(Warning|Advice)\(\s*(?<first>\$?"[^"]*"|[A-Za-z_.]+)\s*,""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex NamedType();

    // Followed by a text; a number would make it a figure of the fit.
    [GeneratedRegex("""\bnew\(\s*(?<first>\$?"[a-z0-9{}-]+"|[A-Za-z_.]+)\s*,\s*\$*\x22""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex TargetTyped();

    [GeneratedRegex("""\bconst string ([A-Za-z_]+ = "[^"]*", )*(?<name>[A-Za-z_]+) = "(?<value>[^"]*)\x22""", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Constant();

    [GeneratedRegex("^[a-z0-9]+(-[a-z0-9]+)*$", RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Word();

    [GeneratedRegex("^[ \t]*//.*$", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex Comment();
}
