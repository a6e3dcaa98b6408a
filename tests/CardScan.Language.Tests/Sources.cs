using Microsoft.CodeAnalysis;
using Microsoft.CodeAnalysis.CSharp;
using Microsoft.CodeAnalysis.CSharp.Syntax;

namespace CardScan.Language.Tests;

/// <summary>A place in the sources where something is said.</summary>
/// <param name="Place">File and line.</param>
/// <param name="Code">The code; of a pattern its beginning.</param>
/// <param name="IsPattern">True where the code is completed at run time.</param>
/// <param name="Names">Names of the values; null where they are made elsewhere.</param>
/// <param name="ExitCode">Exit code of a refusal; null for anything else.</param>
internal sealed record Said(string Place, string Code, bool IsPattern, string[]? Names, string? ExitCode);

/// <summary>The program's sources, and what is said in them.</summary>
internal static class Sources
{
    private static readonly Lazy<IReadOnlyList<(string Path, SyntaxNode Root)>> Parsed = new(() => [.. Parse()]);
    private static readonly Lazy<IReadOnlyList<Said>> Found = new(() => [.. Trees.SelectMany(Scan)]);

    /// <summary>The repository's folder.</summary>
    public static string Root { get; } = FindRoot();

    public static IReadOnlyList<(string Path, SyntaxNode Root)> Trees => Parsed.Value;

    public static IReadOnlyList<Said> Said => Found.Value;

    /// <summary>
    /// Calls of <c>Say</c> and constructions of what is said, with the names of the values where all of them stand there.
    /// </summary>
    private static IEnumerable<Said> Scan((string Path, SyntaxNode Root) source)
    {
        foreach (SyntaxNode node in source.Root.DescendantNodes())
        {
            SeparatedSyntaxList<ArgumentSyntax>? arguments = node switch
            {
                InvocationExpressionSyntax call when IsSaying(call.Expression) => call.ArgumentList.Arguments,
                BaseObjectCreationExpressionSyntax { ArgumentList: { } list } => list.Arguments,
                _ => null,
            };
            if (arguments is not { Count: > 0 } given) continue;
            bool isSaid = node is InvocationExpressionSyntax
                or ObjectCreationExpressionSyntax
                {
                    Type: IdentifierNameSyntax { Identifier.Text: "Phrase" or "Warning" or "Advice" or "Reason" }
                };
            string place = $"{source.Path}:{node.GetLocation().GetLineSpan().StartLinePosition.Line + 1}";
            foreach ((string code, bool isPattern) in CodesOf(given[0].Expression, isSaid))
                yield return new(place, code, isPattern, NamesOf(given.Skip(1)), ExitCodeOf(node));
        }
    }

    private static bool IsSaying(ExpressionSyntax called) => called
        is MemberAccessExpressionSyntax { Name.Identifier.Text: "Say" or "OfInput" or "OfPhoto" or "OfPlace" }
        or IdentifierNameSyntax { Identifier.Text: "Say" };

    private static IEnumerable<(string Code, bool IsPattern)> CodesOf(ExpressionSyntax expression, bool isSaid) => expression switch
    {
        MemberAccessExpressionSyntax { Expression: IdentifierNameSyntax { Identifier.Text: "Codes" } } member
            when typeof(Codes).GetField(member.Name.Identifier.Text) is { } field => [((string)field.GetRawConstantValue()!, false)],
        LiteralExpressionSyntax { Token.Value: string text } when isSaid => [(text, false)],
        InterpolatedStringExpressionSyntax { Contents: [InterpolatedStringTextSyntax start, ..] }
            when isSaid => [(start.TextToken.ValueText, true)],
        ConditionalExpressionSyntax choice => [.. CodesOf(choice.WhenTrue, isSaid), .. CodesOf(choice.WhenFalse, isSaid)],
        _ => [],
    };

    /// <summary>Null where the values are made elsewhere.</summary>
    private static string[]? NamesOf(IEnumerable<ArgumentSyntax> values)
    {
        string?[] names = [.. values.Select(NameOf)];
        return names.Contains(null) ? null : [.. names.OfType<string>()];
    }

    private static string? NameOf(ArgumentSyntax value) =>
        value.Expression is TupleExpressionSyntax { Arguments: [{ Expression: LiteralExpressionSyntax { Token.Value: string name } }, _] }
            ? name
            : null;

    private static string? ExitCodeOf(SyntaxNode node) =>
        node is InvocationExpressionSyntax { Expression: MemberAccessExpressionSyntax { Name.Identifier.Text: { } name } }
            ? name switch { "OfInput" => "2", "OfPhoto" => "3", "OfPlace" => "1", _ => null }
            : null;

    /// <summary>Paths of all source files under a folder of the repository.</summary>
    public static IEnumerable<string> Files(string folder) =>
        Directory.EnumerateFiles(Path.Combine(Root, folder), "*.cs", SearchOption.AllDirectories)
            .Where(path => !path.Contains($"{Path.DirectorySeparatorChar}obj{Path.DirectorySeparatorChar}", StringComparison.Ordinal));

    /// <summary>What makes the packages and the native files speaks to programmers alone.</summary>
    private static IEnumerable<(string Path, SyntaxNode Root)> Parse() => Files("src")
        .Where(path => !path.Contains(Path.Combine("src", "packaging"), StringComparison.Ordinal))
        .Select(path => (Path.GetRelativePath(Root, path), CSharpSyntaxTree.ParseText(File.ReadAllText(path)).GetRoot()));

    private static string FindRoot()
    {
        string root = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(root, "CardScan.sln"))) root = Path.GetDirectoryName(root)!;
        return root;
    }
}
