using System.Text.RegularExpressions;

namespace CardScan.Reporting.Tests;

public sealed class StyleSheetTests
{
    private static readonly string Style = PageReader.Style(PageReader.Page(Samples.Engraved()));

    [Fact]
    public void The_style_sheet_holds_nothing_that_a_writer_would_escape() =>
        // An escaped character would reach the browser as an entity, which style sheets do not know.
        Assert.DoesNotContain(Style, c => c is '<' or '>' or '&');

    [Theory] // WCAG 2.2, success criterion 1.4.3: 4.5 for text.
    [InlineData(0)] // light
    [InlineData(1)] // dark
    [InlineData(2)] // print
    public void Texts_of_every_scheme_have_a_contrast_of_at_least_4_5(int scheme)
    {
        string block = Regex.Matches(Style, ":root\\{([^}]*)\\}")[scheme].Groups[1].Value;
        Dictionary<string, Rgb> colours = Regex.Matches(block, "--([a-z-]+):(#[0-9a-f]{3,6})(?=[;}\\s]|$)")
            .ToDictionary(match => match.Groups[1].Value, match => Rgb.FromHex(Long(match.Groups[2].Value)));

        foreach ((string text, string ground) in new[]
        {
            ("ink", "ground"), ("ink", "sheet"), ("ink", "accent-ground"), ("soft", "ground"), ("soft", "sheet"), ("soft", "accent-ground"),
            ("accent", "ground"), ("ink", "warn-ground"), ("warn", "warn-ground"),
        })
        {
            double contrast = Rgb.ContrastRatio(colours[text], colours[ground]);
            Assert.True(contrast >= 4.5, $"{text} on {ground}: {contrast:F2}");
        }
    }

    private static string Long(string hex) => hex.Length == 7 ? hex : $"#{hex[1]}{hex[1]}{hex[2]}{hex[2]}{hex[3]}{hex[3]}";
}
