using System.Xml.Linq;
using CardScan.Model;
using static CardScan.Reporting.Tests.PageReader;

namespace CardScan.Reporting.Tests;

/// <summary>A reading whose setting stands on an earlier card, at a place that this card's grid has too.</summary>
public sealed class JoinedCardsTests
{
    private const string Together = "Scored together with card 4 (25 cells, 2 Nov 2026) and card 5 (36 cells).";

    private static readonly Reading Own = Samples.Engraved();

    private static readonly Recommendation Earlier = Own.Recommendations[0] with
    {
        PowerPercent = 66, SpeedMmPerMin = 910, Card = 4,
        EarlierCell = Own.Cells[Own.Plan.Columns.Values.Count - 1] with
        {
            Settings = new() { PowerPercent = 66, SpeedMmPerMin = 910, Passes = 3, LineIntervalMm = 0.1 },
            CenterPx = null,
        },
    };

    private static readonly Reading Joined = Own with
    {
        Recommendations = [Earlier],
        Joined = [new() { Number = 4, CellsUsed = 25, Taken = new(2026, 11, 2, 10, 0, 0) }, new() { Number = 5, CellsUsed = 36 }],
    };

    [Fact]
    public void The_page_says_with_which_cards_it_was_scored()
    {
        XElement header = Parsed(Joined, withPicture: true).Descendants("header").Single();
        Assert.Equal(Together, header.Elements("p").Single(element => Has(element, "together")).Value);
        Assert.DoesNotContain("Scored together", Page(Own, withPicture: true), StringComparison.Ordinal);
        Assert.Contains(Together, PngMetadata.Of(Joined, 0).Single(text => text.Keyword == "Description").Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_of_an_earlier_card_names_the_card_and_has_that_cards_passes()
    {
        XElement panel = Parsed(Joined, withPicture: true).Descendants("article").First(element => Has(element, "setting"));
        string text = Text(panel), key = KeyEntry.Of(Joined, CardMarks.Of(Joined).Labels)[0].Words;
        Assert.Contains("With 3 passes, line interval 0.1 mm, focus on the surface, as burned on card 4.", text, StringComparison.Ordinal);
        Assert.Contains("Yes, on card 4: the cell in row 1, column 6 there", text, StringComparison.Ordinal);
        Assert.Contains("910 mm/min at 66 % in 3 passes", key, StringComparison.Ordinal);
        Assert.EndsWith("; it is on card 4, so it is not marked here", key, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_of_an_earlier_card_is_marked_nowhere_on_this_one()
    {
        Assert.Contains(CardMarks.Of(Own).Marks, mark => mark is BadgeMark);
        Assert.DoesNotContain(CardMarks.Of(Joined).Marks, mark => mark is BadgeMark or StrokeMark { Ink: Ink.Recommended });
        XElement page = Parsed(Joined, withPicture: true);
        Assert.DoesNotContain(page.Descendants(), element => Has(element, "recommended-row"));
        Assert.DoesNotContain(page.Descendants(), element => Has(element, "recommended"));
        Assert.DoesNotContain("Frame and number in a disc", page.Value, StringComparison.Ordinal);
        Assert.DoesNotContain("Numbered discs", page.Value, StringComparison.Ordinal);
        Assert.Contains("Marked as recommended: 1 (no cell of this card, but one of card 4).", page.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_of_this_card_and_one_of_an_earlier_at_the_same_place_are_two()
    {
        Reading both = Joined with { Recommendations = [Earlier, Earlier with { Goal = Goal.Darkest, Card = null, EarlierCell = null }] };
        Assert.Equal([1, 2], NumberedSetting.Of(both).Select(setting => setting.Number));
    }

    [Fact]
    public void The_kerf_of_a_setting_of_an_earlier_card_is_that_cards()
    {
        Reading cut = Samples.Cut();
        CellReading own = cut.Cells.Single(cell => (cell.Row, cell.Column) == (0, 3));
        SideReading side = own.Sides!.Left with { State = SideState.Open, KerfMm = 0.77 };
        CellReading earlier = own with { Sides = new(side, side, side, side) };
        cut = cut with { Recommendations = [cut.Recommendations[0] with { Card = 4, EarlierCell = earlier }] };
        string kerf = KerfSection.Write(new GridCells(cut))!.Value;
        Assert.Contains("Recommendation 1, row 1, column 4 of card 4", kerf, StringComparison.Ordinal);
        Assert.Contains("0.77 to 0.77", kerf, StringComparison.Ordinal);
    }

    [Fact]
    public void A_clean_cut_is_named_by_the_char_of_the_earlier_cell()
    {
        CellReading unknown = Earlier.EarlierCell! with { HaloMm = null }, known = unknown with { HaloMm = new(0.1, 0.01) };
        Recommendation clean = Earlier with { Goal = Goal.CleanCut, Confidence = 0.97, EarlierCell = unknown };
        Assert.Equal("Least energy for a sure cut", GoalName.Of(clean, Joined));
        Assert.Equal("Cleanest sure cut", GoalName.Of(clean with { EarlierCell = known }, Joined));
    }

    [Fact]
    public void The_table_of_cells_names_the_cards_only_where_there_are_some()
    {
        string[] lines = CardReport.Csv(Joined).Split("\r\n");
        Assert.EndsWith(",scored with cards", lines[0], StringComparison.Ordinal);
        Assert.EndsWith(",4 5", lines[1], StringComparison.Ordinal);
        Assert.DoesNotContain("scored with cards", CardReport.Csv(Own), StringComparison.Ordinal);
    }

    private static bool Has(XElement element, string name) => ((string?)element.Attribute("class") ?? "").Split(' ').Contains(name);
}
