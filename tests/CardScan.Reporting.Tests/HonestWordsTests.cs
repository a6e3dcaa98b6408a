using System.Xml.Linq;
using CardScan.Model;
using static CardScan.Reporting.Tests.PageReader;

namespace CardScan.Reporting.Tests;

/// <summary>What the page says must hold for the reading it is made from.</summary>
public sealed class HonestWordsTests
{
    private static Reading CutWithBoundary() => Samples.Cut() with
    {
        Boundary = [new(Goal.SureCut, 800, 61.6, 53.5, 68.1), new(Goal.SureCut, 1370, 85.6, 77.4, 97.4)],
    };

    private static Reading CutWithTwoGoals()
    {
        Reading reading = Samples.Cut();
        Recommendation sure = reading.Recommendations[0];
        string reason = "Char was not measured, so the sure cut with the least energy stands in.";
        return reading with { Recommendations = [sure, sure with { Goal = Goal.CleanCut, Reason = reason }] };
    }

    [Fact]
    public void The_boundary_of_a_cut_card_is_called_what_it_is_and_never_the_power_for_a_sure_cut()
    {
        XElement grid = Section(Parsed(CutWithBoundary()), "grid")!;
        string caption = Text(grid.Descendants("figcaption").Single());
        string table = Text(grid.Descendants("caption").Single());

        foreach (string words in new[] { caption, table })
        {
            Assert.Contains("half of the sides come through", words, StringComparison.Ordinal);
            Assert.Contains("a setting for cutting", words, StringComparison.Ordinal);
            Assert.DoesNotContain("east power", words, StringComparison.Ordinal);
        }

        Assert.DoesNotContain("Least power", Text(grid), StringComparison.Ordinal);
    }

    [Fact]
    public void The_boundary_of_an_engraved_card_is_the_least_power_that_reaches_a_full_mark()
    {
        XElement grid = Section(Parsed(Samples.Engraved()), "grid")!;

        Assert.Equal("Lowest power that gives a full mark at each speed", Text(grid.Descendants("caption").Single()));
        string caption = Text(grid.Descendants("figcaption").Single());
        Assert.Contains("Line: the lowest power that gives a full mark at each speed", caption, StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_full_mark_means_names_no_share_that_the_reading_does_not_hold()
    {
        Reading reading = Samples.Engraved();
        string meaning = GoalName.MeaningOf(reading.Recommendations[0], reading);

        Assert.Contains("full mark", meaning, StringComparison.Ordinal);
        Assert.DoesNotContain("95", meaning, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_goals_at_one_cell_and_setting_share_one_card_with_both_reasons_and_one_number()
    {
        XElement page = Parsed(CutWithTwoGoals(), withPicture: true);
        XElement card = Assert.Single(page.Descendants("article"));

        Assert.Equal("1 Sure cut · Least energy for a sure cut", Text(card.Element("h3")!));
        Assert.Contains("All four sides are through.", Text(card), StringComparison.Ordinal);
        Assert.Contains("Char was not measured", Text(card), StringComparison.Ordinal);
        Assert.Single(card.Descendants("dt"), name => name.Value == "Confidence");
        Assert.Equal("Recommended setting", Text(Section(page, "recommendation")!.Element("h2")!));
        Assert.All(
            page.Descendants("text").Where(text => (string?)text.Attribute("class") == "strong"),
            badge => Assert.Equal("1", badge.Value));
        Assert.Contains("Recommendation 1, row 1, column 4", Text(Section(page, "kerf")!), StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_that_bridges_keep_from_being_sure_is_not_called_sure()
    {
        Reading sure = CutWithTwoGoals();
        Reading bridged = sure with
        {
            Advice = [.. sure.Advice, new("bridged-sides", "6 of the 34 sides that got enough energy are held by a short bridge.")],
            Recommendations = sure.Recommendations.Select(each => each with { Confidence = 0.46 }).ToValueList(),
        };

        XElement page = Parsed(bridged, withPicture: true), panel = page.Descendants("article").First();
        Assert.Contains("best estimate 98 % (extremely likely), count on 46 %", Text(panel), StringComparison.Ordinal);
        Assert.Equal(
            "1 Cuts through, apart from small bridges · Least energy that cuts, with small bridges", Text(panel.Element("h3")!));
        Assert.All(
            bridged.Recommendations,
            each => Assert.DoesNotContain(" sure", GoalName.MeaningOf(each, bridged), StringComparison.Ordinal));
    }

    [Fact]
    public void A_cut_that_is_not_even_likely_is_headed_as_doubtful_though_bridges_hold_it()
    {
        Reading sure = CutWithTwoGoals();
        Interval interval = new("probabilityThrough", 0.45, 0.004, 0.97);
        Reading doubtful = sure with
        {
            Advice = [.. sure.Advice, new("bridged-sides", "6 of the 34 sides that got enough energy are held by a short bridge.")],
            Recommendations = sure.Recommendations.Select(each => each with { Confidence = 0.004, Interval = interval }).ToValueList(),
        };

        XElement panel = Parsed(doubtful, withPicture: true).Descendants("article").First();
        Assert.Equal(
            "1 Doubtful cut, may well be held · Least energy for a doubtful cut, may well be held", Text(panel.Element("h3")!));
        Assert.Contains("best estimate 45 % (about as likely as not), count on 0.4 %", Text(panel), StringComparison.Ordinal);
        Assert.Contains("the next cut may well be held", Text(panel), StringComparison.Ordinal);
    }

    [Fact]
    public void Two_settings_backed_by_one_cell_keep_their_cards()
    {
        Reading reading = CutWithTwoGoals();
        reading = reading with { Recommendations = [reading.Recommendations[0], reading.Recommendations[1] with { PowerPercent = 90 }] };

        Assert.Equal(2, Parsed(reading).Descendants("article").Count());
    }

    [Fact]
    public void The_least_char_is_claimed_only_where_char_was_measured()
    {
        Reading reading = CutWithTwoGoals();
        Reading measured = reading with { Cells = reading.Cells.Select(cell => cell with { HaloMm = new(0.3, 0.05) }).ToValueList() };

        string without = Text(Section(Parsed(reading), "recommendation")!);
        string with = Text(Section(Parsed(measured), "recommendation")!);

        Assert.DoesNotContain("leanest", without, StringComparison.Ordinal);
        Assert.DoesNotContain("The least char", without, StringComparison.Ordinal);
        Assert.Contains("Cleanest sure cut", with, StringComparison.Ordinal);
        Assert.Contains("The least char among the sure cuts.", with, StringComparison.Ordinal);
    }

    [Fact]
    public void A_model_that_is_no_curve_makes_no_section_of_curves_and_keeps_its_panel()
    {
        Reading engraved = Samples.Engraved();
        XElement page = Parsed(engraved with { Model = engraved.Model! with { Curve = null } });

        Assert.Null(Section(page, "curve"));
        Assert.NotNull(Section(page, "model"));
        Assert.NotNull(Section(Parsed(engraved), "curve"));
    }

    [Fact]
    public void The_model_is_told_in_words_with_units_and_shown_on_demand()
    {
        Reading engraved = Samples.Engraved();
        FittedModel model = engraved.Model! with
        {
            Parameters = new([
                new("thresholdDose", new(0.0678, 0.046)), new("speedExponent", new(0.904, 0.016)),
                new("efficiencyAtFocus-1.5Mm", new(0.8, 0.05))]),
            Diagnostics = new([
                new("cellsUsed", 30), new("halfwayProbability", 1.08e-14), new("effectiveDegreesOfFreedom", 14.5783),
                new("chanceInShareOfMark", 0), new("middleSpeedMmPerMin", 2224.33), new("somethingNew", 1e-13),
                new("plateauShare", 0.999338)]),
        };
        XElement details = Parsed(engraved with { Model = model }).Descendants("details").Single();
        string words = Text(details);

        Assert.Null(details.Attribute("open"));
        Assert.Equal("Saturating exponential of the energy", Text(details.Element("summary")!));
        string[] facts =
        [
            "Energy at which marking begins0.07 ± 0.05 J/mm²", "Cells used30", "Middle speed of the card2224.3 mm/min",
            "somethingNewunder 0.0001", "Efficiency at focus offset −1.5 mm", "That scatter is proportional to the markno",
        ];
        Assert.All(facts, fact => Assert.Contains(fact, words, StringComparison.Ordinal));
        Assert.DoesNotContain("0.00000", words, StringComparison.Ordinal);
        Assert.DoesNotContain("30.00", words, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("shareOfStrongestMark", 0.9487, 0.935, 0.959, "Share of the strongest mark", "95 % [94, 96]")]
    [InlineData("probabilityThrough", 0.983, 0.952, 0.994, "Probability of cutting through", "98 % [95, 99]")]
    public void A_share_is_told_in_percent_as_in_the_sentence_above_it(
        string quantity, double value, double low, double high, string name, string expected)
    {
        Reading reading = Samples.Engraved();
        reading = reading with { Recommendations = [reading.Recommendations[0] with { Interval = new(quantity, value, low, high) }] };
        XElement fact = Section(Parsed(reading), "recommendation")!.Descendants("dl").Single().Elements("div")
            .Single(div => div.Element("dt")!.Value == name);

        Assert.StartsWith(expected, Text(fact.Element("dd")!), StringComparison.Ordinal);
    }

    [Fact]
    public void Contrast_is_explained_once()
    {
        string page = Text(Parsed(Samples.Engraved()).Element("body")!);

        Assert.Equal(2, page.Split("Contrast is ", StringSplitOptions.None).Length);
    }

    [Fact]
    public void Sides_stand_in_one_order_left_right_top_bottom()
    {
        string[] headings =
        [
            .. Section(Parsed(Samples.Cut()), "cells")!.Descendants("th").Select(Text)
                .Where(text => text.EndsWith(" side", StringComparison.Ordinal)),
        ];

        Assert.Equal(["Left side", "Right side", "Top side", "Bottom side"], headings);
    }

    [Theory]
    [InlineData("workshop diode, 10 W optical", "workshop diode, 10 W optical")]
    [InlineData("workshop diode 10W", "workshop diode 10W (optical)")]
    [InlineData("workshop diode", "workshop diode, 10 W optical")]
    [InlineData("bench 110 W", "bench 110 W, 10 W optical")]
    [InlineData("bench 10 wide", "bench 10 wide, 10 W optical")]
    public void A_machines_watts_are_said_once(string name, string expected) =>
        Assert.Equal(expected, ShownPlan.Machine(new() { Name = name, RatedOpticalWatts = 10 }));

    [Fact]
    public void The_page_says_that_files_count_cells_from_0() =>
        Assert.Contains(
            "from 0 in reading.json and cells.csv", Text(Section(Parsed(Samples.Engraved()), "cells")!), StringComparison.Ordinal);

    [Fact]
    public void Two_numbers_on_one_disc_are_as_large_as_one_and_stay_inside_it()
    {
        BadgeMark one = new("1", new(0, 0), 10), two = new("1, 2", new(0, 0), 10);

        XElement[] drawn = [.. MarkSvg.Draw([two])];
        string ink = InkColours.Line(Ink.Recommended).Hex;
        double width = (double)drawn.Single(element => (string?)element.Attribute("fill") == ink).Attribute("width")!;

        Assert.Equal(MarkSvg.BadgeTextSize(one), MarkSvg.BadgeTextSize(two));
        Assert.True(width > Typeface.WidthOf("1, 2") * MarkSvg.BadgeTextSize(two));
    }

    [Fact]
    public void Two_numbers_beside_one_cell_of_a_photo_are_as_large_as_one()
    {
        Reading one = Samples.Cut();
        Reading two = one with { Recommendations = [one.Recommendations[0], one.Recommendations[0] with { PowerPercent = 90 }] };
        BadgeMark single = Assert.Single(CardMarks.Of(one).Marks.OfType<BadgeMark>());
        BadgeMark[] both = [.. CardMarks.Of(two).Marks.OfType<BadgeMark>()];

        Assert.Equal(["1", "2"], both.Select(badge => badge.Text));
        Assert.All(both, badge => Assert.Equal(single.Radius, badge.Radius, 9));
        Assert.True((both[1].Center - both[0].Center).Length > 2 * MarkSvg.BadgeRim(single.Radius));
    }
}
