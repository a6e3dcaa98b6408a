namespace CardScan.Language.Tests;

/// <summary>
/// Sentences and what they come to. The syntax and its examples: Unicode Technical Standard 35 part 3 and the ICU user
/// guide, "Formatting Messages".
/// </summary>
public class TemplateTests
{
    [Theory]
    [InlineData("{n, plural, =0 {no cells} one {# cell} other {# cells}}", 0, "no cells")]
    [InlineData("{n, plural, =0 {no cells} one {# cell} other {# cells}}", 1, "1 cell")]
    [InlineData("{n, plural, =0 {no cells} one {# cell} other {# cells}}", 12, "12 cells")]
    [InlineData("Take {n, plural, one {it} other {all # of them}} out.", 3, "Take all 3 of them out.")]
    public void A_plural_takes_the_branch_of_its_number(string sentence, int n, string expected) =>
        Assert.Equal(expected, Fill(sentence, ("n", n)));

    [Theory]
    [InlineData("{kind, select, cut {through} other {dark}}", "cut", "through")]
    [InlineData("{kind, select, cut {through} other {dark}}", "engrave", "dark")]
    [InlineData("{kind, select, none {nothing} other {something}}", null, "nothing")]
    [InlineData("{kind, select, other {something}}", null, "something")]
    public void A_choice_takes_the_branch_of_its_word_and_none_where_there_is_no_value(string sentence, string? kind, string expected) =>
        Assert.Equal(expected, kind is null ? Fill(sentence) : Fill(sentence, ("kind", kind)));

    [Fact]
    public void Branches_hold_sentences_with_values_and_branches_of_their_own() =>
        Assert.Equal(
            "2 cells were held at 300 mm/min.",
            Fill(
                "{n, plural, one {One cell was} other {# cells were}} held"
                    + "{speed, select, none {} other { at {speed}{power, select, none {} other { and {power}}}}}.",
                ("n", 2), ("speed", Figures.Speed(300))));

    [Fact]
    public void A_value_of_a_branch_that_is_not_taken_may_be_missing() =>
        Assert.Equal("no", Fill("{a, select, yes {{b}} other {no}}", ("a", "no")));

    [Theory]
    [InlineData("", "{what, and}")]
    [InlineData("a", "{what, and}", "a")]
    [InlineData("a and b", "{what, and}", "a", "b")]
    [InlineData("a, b and c", "{what, and}", "a", "b", "c")]
    [InlineData("a, b, c", "{what}", "a", "b", "c")]
    public void A_list_in_a_sentence_puts_and_before_its_last_item(string expected, string sentence, params string[] items) =>
        Assert.Equal(expected, Fill(sentence, ("what", Figures.List(items))));

    [Fact]
    public void Apostrophes_are_letters() => Assert.Equal("the card's own", Fill("the card's own"));

    [Theory]
    [InlineData("{n")]
    [InlineData("n}")]
    [InlineData("{}")]
    [InlineData("{n, plural, one {x}}")]
    [InlineData("{n, number}")]
    [InlineData("{n, plural, other {x}")]
    public void A_broken_sentence_is_refused(string sentence) => Assert.Throws<FormatException>(() => Template.Parse(sentence));

    [Theory]
    [InlineData("{n}")]
    [InlineData("{n, plural, other {x}}")]
    [InlineData("{n, select, a {x}}")]
    public void A_missing_value_is_an_error(string sentence) => Assert.Throws<KeyNotFoundException>(() => Fill(sentence));

    private static string Fill(string sentence, params (string, Figure)[] values) =>
        Template.Parse(sentence)
            .Fill(values.ToDictionary(value => value.Item1, value => value.Item2), new FigureText(LanguageFile.English));
}
