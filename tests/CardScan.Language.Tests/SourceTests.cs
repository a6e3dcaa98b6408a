using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;

namespace CardScan.Language.Tests;

/// <summary>
/// Holds the sources to the language file: every code that is said has a sentence, with the values it needs, and every
/// sentence is said.
/// </summary>
public class SourceTests
{
    [Fact]
    public void Every_code_that_is_said_has_a_sentence()
    {
        Assert.True(Sources.Said.Count > 50, "the scan finds too few sentences to be right");
        Assert.Empty(Sources.Said.Where(said => !said.IsPattern && KeysOf(said).Length == 0).Select(said => $"{said.Place}: {said.Code}"));
    }

    [Fact]
    public void Every_sentence_gets_the_values_that_it_needs() =>
        Assert.Empty(
            from said in Sources.Said
            where said.Names is not null && !said.IsPattern
            from key in KeysOf(said)
            let missing = LanguageFile.English.TemplateOf(key).Needs.Except(said.Names!).ToArray()
            where missing.Length > 0
            select $"{said.Place}: {key} has no {string.Join(", ", missing)}");

    [Fact]
    public void No_value_is_given_that_no_sentence_knows() =>
        Assert.Empty(
            from said in Sources.Said
            where said.Names is not null && !said.IsPattern && KeysOf(said).Length > 0
            let known = KeysOf(said).SelectMany(key => LanguageFile.English.TemplateOf(key).Names).ToHashSet()
            let idle = said.Names!.Where(name => !known.Contains(name)).ToArray()
            where idle.Length > 0
            select $"{said.Place}: {said.Code} does not tell {string.Join(", ", idle)}");

    [Fact]
    public void Every_sentence_is_said_somewhere()
    {
        HashSet<string> literals =
        [
            .. Sources.Trees.SelectMany(source => source.Root.DescendantTokens())
                .Where(token => token.IsKind(SyntaxKind.StringLiteralToken))
                .Select(token => token.ValueText),
        ];
        string[] starts = [.. Sources.Said.Where(said => said.IsPattern).Select(said => said.Code).Where(start => start.Length > 3)];
        Assert.DoesNotContain(LanguageFile.English.All, key => !IsSaid(key));

        bool IsSaid(string key) => literals.Contains(key) || literals.Contains(key.Split('.')[0])
            || starts.Any(start => key.StartsWith(start, StringComparison.Ordinal));
    }

    /// <summary>A refusal has two sentences, anything else one; a code may name both.</summary>
    private static string[] KeysOf(Said said) => said.ExitCode is null && LanguageFile.English.Has(said.Code)
        ? [said.Code]
        : [.. new[] { "seen", "remedy" }.Select(part => $"{said.Code}.{part}").Where(LanguageFile.English.Has)];
}
