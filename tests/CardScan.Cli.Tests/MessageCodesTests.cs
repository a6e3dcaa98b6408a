namespace CardScan.Cli.Tests;

/// <summary>The scan that holds docs/messages.md to the sources finds codes however they are written.</summary>
public class MessageCodesTests
{
    [Theory]
    [InlineData("""Refusal.OfInput("late", fault, "do so")""", "late")]
    [InlineData("Refusal.OfPhoto(\n    \"too-late\",\n    $\"{x} is late\", y)", "too-late")]
    [InlineData("""new Advice("late", text)""", "late")]
    [InlineData("""yield return new("late", $"It is {x} late.");""", "late")]
    [InlineData("Advice NoSides() => new(\"too-late\",\n        \"No side.\");", "too-late")]
    [InlineData("""const string Late = "late"; Advice A() => new Advice(Late, text);""", "late")]
    [InlineData("""const string Late = "late"; Advice A() => new(Codes.Late, "It is late.");""", "late")]
    [InlineData("""string Code(bool x) => x ? "too-late" : "too-early";""", "too-late", "too-early")]
    [InlineData("""Refusal.OfInput($"{what}-late", a, b)""", "machine-late", "material-late", "plan-late", "reading-late")]
    [InlineData("""yield return new($"cells-{flag}", $"{count} cells");""", "cells-glare", "cells-clipped", "cells-out-of-frame")]
    [InlineData("""new Warning($"late-{other}", text)""", "late-{other}")] // an unknown completion fails the test of the documents
    [InlineData("""Refusal.OfPhoto(code, a, b)""", "code")] // so does what cannot be resolved
    public void A_code_is_found(string source, params string[] codes) => Assert.Equal(codes.Order(StringComparer.Ordinal), New(source));

    [Theory]
    [InlineData("""// new Advice("late", "It was.")""")]
    [InlineData("    /// <summary>As in \"too-late\".</summary>")]
    [InlineData("""public static Refusal OfInput(string code, string seen, string remedy) => new(RefusalKind.WrongInput, code, seen, remedy);""")]
    [InlineData("""yield return new("outliers", fit.Outliers.Count);""")]
    [InlineData("""new XAttribute("stroke-width", 1)""")]
    [InlineData("""Goal = "sure-cut" """)]
    public void What_is_no_code_is_left_alone(string source) => Assert.Empty(New(source));

    private static string[] New(string source) => [.. MessageCodes.In([source]).Except(MessageCodes.In([]))];
}
