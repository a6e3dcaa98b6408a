using System.Text;
using System.Text.RegularExpressions;
using CardScan.Model;

namespace CardScan.Planning.Tests;

/// <summary>Grey strips as they are laid out and printed.</summary>
public sealed class GreyStripPlanTests
{
    [Theory]
    [InlineData(0)]
    [InlineData(249)]
    public void A_strip_obeys_the_rules_of_plans_and_has_nothing_of_a_laser(int number)
    {
        Plan strip = CardPlanner.MakeStrip(number);

        Assert.Null(PlanRules.Check(strip));
        Assert.Equal(strip.Columns.Values.Order(), strip.Columns.Values);
        Assert.All(strip.Cells, cell => Assert.Null(strip.DoseOf(strip.SettingsOf(cell))));
        Assert.Equal(4 * number, strip.Fiducials.Markers[0].Id);
    }

    /// <summary>Codes 1 to 254 of sRGB (IEC 61966-2-1) hold any density of the strip to 0.005.</summary>
    [Fact]
    public void Its_plan_tells_the_densities_of_the_greys_that_are_asked_for() =>
        Assert.All(CardPlanner.MakeStrip(1).Columns.Values.Zip([0.1, 0.2, 0.35, 0.5, 0.7, 0.9, 1.1, 1.3]),
            grey => Assert.Equal(grey.Second, grey.First, 0.005));

    [Theory]
    [InlineData(Paper.A4, 210, 297)] // ISO 216
    [InlineData(Paper.Letter, 215.9, 279.4)] // ANSI/ASME Y14.1
    public void It_is_printed_on_one_page_of_the_paper(Paper paper, double widthMm, double heightMm)
    {
        string pdf = Encoding.Latin1.GetString(CardPlanner.PrintStrip(CardPlanner.MakeStrip(12), paper));

        Match page = Assert.Single(Regex.Matches(
            pdf, @"/MediaBox \[0 0 (?<width>[\d.]+) (?<height>[\d.]+)\]", RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(5)));
        Assert.Equal(widthMm, double.Parse(page.Groups["width"].Value) / 72 * 25.4, 0.05);
        Assert.Equal(heightMm, double.Parse(page.Groups["height"].Value) / 72 * 25.4, 0.05);
    }

    [Fact]
    public void What_is_no_strip_is_not_printed_as_one_and_no_number_is_made_up()
    {
        Plan card = CardPlanner.MakePlan(Requests.Engrave).Value;
        Assert.Throws<ArgumentException>(() => CardPlanner.PrintStrip(card, Paper.A4));
        Assert.Throws<ArgumentOutOfRangeException>(() => CardPlanner.MakeStrip(250));
        Assert.Throws<ArgumentOutOfRangeException>(() => CardPlanner.MakeStrip(-1));
    }
}
