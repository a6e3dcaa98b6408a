using System.Text.RegularExpressions;
using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace CardScan.Language.Tests;

/// <summary>
/// Holds the sources to the language file: every code that is said has a sentence, with the values it needs, and every
/// sentence is said.
/// </summary>
public partial class SourceTests
{
    [GeneratedRegex("[A-Za-z]{2,},? [a-z]{2,},? [a-z]{2,}")]
    private static partial Regex ThreeWords { get; }

    [GeneratedRegex("^ ?(?:cardscan|sudo) |(?:SELECT|FROM|WHERE|UPDATE) ")]
    private static partial Regex CommandLineOrQuery { get; }

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

    [Fact]
    public void Nobody_else_makes_sentences()
    {
        string[] sentences =
        [
            .. from source in Sources.Trees
               where !source.Path.Contains("CardScan.Language", StringComparison.Ordinal)
               from token in source.Root.DescendantTokens()
               where token.Kind() is SyntaxKind.StringLiteralToken or SyntaxKind.InterpolatedStringTextToken
               where ThreeWords.IsMatch(token.ValueText) && !CommandLineOrQuery.IsMatch(token.ValueText)
               where !IsForProgrammers(token.Parent!)
               select $"{source.Path}:{token.GetLocation().GetLineSpan().StartLinePosition.Line + 1}: {token.ValueText}",
        ];
        Assert.Empty(sentences);
    }

    [Fact]
    public void No_type_has_the_name_of_another()
    {
        IEnumerable<(string Name, string Path)> types =
            from source in Sources.Trees
            from type in source.Root.DescendantNodes().OfType<BaseTypeDeclarationSyntax>()
            let isPartial = type.Modifiers.Any(SyntaxKind.PartialKeyword)
            let arity = type is TypeDeclarationSyntax { TypeParameterList.Parameters.Count: var count } ? count : 0
            select (type.Identifier.Text + (arity > 0 ? $"`{arity}" : ""), isPartial ? "" : source.Path);
        Assert.Empty(
            from type in types.Distinct()
            group type.Path by type.Name into same
            where same.Count() > 1
            select $"{same.Key}: {string.Join(", ", same)}");
    }

    [Fact]
    public void No_line_is_longer_than_140_characters() =>
        Assert.Empty(
            from path in Sources.Files("src").Concat(Sources.Files("tests"))
            from line in File.ReadLines(path).Select((text, at) => (text.Length, Number: at + 1))
            where line.Length > 140
            select $"{path}:{line.Number}");

    /// <summary>Exceptions of what only a programmer can cause, and attributes.</summary>
    private static bool IsForProgrammers(SyntaxNode literal) => literal.Ancestors().Any(node =>
        node is AttributeSyntax or ThrowExpressionSyntax or ThrowStatementSyntax
        || (node is ObjectCreationExpressionSyntax made && made.Type.ToString().EndsWith("Exception", StringComparison.Ordinal)));

    /// <summary>A refusal has two sentences, anything else one; a code may name both.</summary>
    private static string[] KeysOf(Said said) => said.ExitCode is null && LanguageFile.English.Has(said.Code)
        ? [said.Code]
        : [.. new[] { "seen", "remedy" }.Select(part => $"{said.Code}.{part}").Where(LanguageFile.English.Has)];
}
