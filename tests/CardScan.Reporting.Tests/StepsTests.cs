using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class StepsTests
{
    private static readonly Plan Card = Samples.Plan(rows: 2, columns: 2);

    private static readonly ValueList<BurnStep> Steps =
    [
        new()
        {
            Order = 1, Colour = "#000000", Kind = StepKind.Markers, IsFill = true,
            Settings = new() { PowerPercent = 60, SpeedMmPerMin = 2000, LineIntervalMm = 0.125 },
        },
        new() { Order = 2, Colour = "#BB11EE", Kind = StepKind.Labels, IsFill = false, Settings = null },
        new()
        {
            Order = 3, Colour = "#338800", Kind = StepKind.Cells, IsFill = false, Cells = [Card.Cells[3], Card.Cells[0]],
            Settings = new() { PowerPercent = 33.3, SpeedMmPerMin = 1000, Passes = 2, FocusOffsetMm = -1.5 },
        },
    ];

    [Fact]
    public void The_table_has_a_line_for_each_colour_with_its_cells_from_1_and_every_setting() =>
        Assert.Equal(
            [
                "order,colour,burned (rows and columns from 1),mode,power (%),speed (mm/min),speed (mm/s),passes,line interval (mm),"
                    + "focus offset (mm),focus lower with each pass (mm),pause between passes (s),pause before the cell (s),air assist,"
                    + "card,material,machine",
                "1,#000000,markers,fill,60,2000,33.3333,1,0.125,0,,,,,7,ash board,lower bench",
                "2,#BB11EE,labels,line,,,,,,,,,,,7,ash board,lower bench",
                "3,#338800,\"r2 c2, r1 c1\",line,33.3,1000,16.6667,2,,-1.5,0,0,0,,7,ash board,lower bench",
                "",
            ],
            CardReport.SettingsCsv(Card, Steps).Split("\r\n"));

    [Theory]
    [InlineData("=1+1")]
    [InlineData("+1")]
    [InlineData("-1")]
    [InlineData("@SUM(A1)")]
    public void A_name_cannot_become_a_formula_in_the_table(string name)
    {
        Plan plan = Card with { Material = new() { Name = name }, Machine = new() { Name = name, RatedOpticalWatts = 5 } };
        string line = CardReport.SettingsCsv(plan, Steps).Split("\r\n")[2];
        Assert.Equal(2, line.Split($"'{name}").Length - 1);
    }

    [Fact]
    public void The_page_shows_each_colour_and_every_value_with_the_digits_that_are_typed()
    {
        XElement page = PageReader.Parse(CardReport.SettingsHtml(Card, Steps, ["Mind the beam."]));
        XElement table = page.Descendants("tbody").Single();
        string[][] rows = [.. table.Elements().Select(row => row.Elements().Select(PageReader.Text).ToArray())];
        Assert.Equal(["1", "#000000", "markers", "fill", "60", "2000", "33.333", "1", "0", "0.125"], rows[0]);
        Assert.Equal(["2", "#BB11EE", "labels", "line", "–", "–", "–", "–", "–", "–"], rows[1]);
        Assert.Equal(["3", "#338800", "r2 c2, r1 c1", "line", "33.3", "1000", "16.667", "2", "−1.5", "–"], rows[2]);
        Assert.Equal(
            Steps.Select(step => step.Colour), page.Descendants("rect").Select(patch => (string?)patch.Attribute("fill")));
        Assert.Contains("Mind the beam.", PageReader.Section(page, "cautions")!.Value, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_says_which_risk_was_accepted_and_what_a_maker_wrote_stays_text()
    {
        Plan plan = Card with { Title = "<script>x</script>", AcceptedRisk = "<b>fumes</b>" };
        string page = CardReport.SettingsHtml(plan, Steps, []);
        Assert.DoesNotContain("<script", page, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("You accepted this risk of the material: <b>fumes</b>",
            PageReader.Section(PageReader.Parse(page), "cautions")!.Value, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>", page, StringComparison.Ordinal);
    }
}
