using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class HeatMapTests
{
    private static XElement Map(Reading reading) => HeatMap.Draw(new(reading), fits: true);

    private static XElement[] Values(XElement map) =>
        [.. map.Descendants("text").Where(text => (string?)text.Attribute("class") == "cell-value")];

    [Fact]
    public void Every_measured_cell_shows_its_number_and_the_others_say_so()
    {
        Reading reading = Samples.Engraved();
        XElement map = Map(reading);

        Assert.Equal(29, Values(map).Length); // 30 cells, one in glare
        Assert.Equal("0.54", Values(map)[0].Value);
        Assert.Single(map.Descendants("text"), text => text.Value == "measured");
    }

    [Theory]
    [InlineData(false)]
    [InlineData(true)]
    public void The_number_stands_on_its_own_cells_colour_with_enough_contrast(bool isCut)
    {
        XElement map = Map(isCut ? Samples.Cut() : Samples.Engraved());

        Assert.NotEmpty(Values(map));
        foreach (XElement value in Values(map))
        {
            // The halo has the cell's colour, so that a line behind the number does not count.
            Rgb ground = Rgb.FromHex(value.Attribute("stroke")!.Value);
            Assert.True(Rgb.ContrastRatio(Rgb.FromHex(value.Attribute("fill")!.Value), ground) >= 4.5);
            Assert.Contains(map.Elements("rect"), rect => (string?)rect.Attribute("fill") == ground.Hex);
        }
    }

    [Fact]
    public void Darker_marks_get_darker_colours_and_lighter_ones_lighter()
    {
        HeatQuantity dark = HeatQuantity.Of(Samples.Engraved());
        HeatQuantity light = HeatQuantity.Of(Samples.Lighter());

        Assert.True(dark.Colour(0.8).Luminance01 < dark.Colour(0.1).Luminance01);
        Assert.True(light.Colour(-0.8).Luminance01 > light.Colour(-0.1).Luminance01);
        Assert.Equal(0, dark.Low); // bare material is on both scales
        Assert.Equal(0, light.High);
    }

    [Fact]
    public void Only_the_recommended_cell_is_framed_and_numbered()
    {
        XElement map = Map(Samples.Engraved());

        XElement frame = Assert.Single(map.Descendants("rect"), rect => (string?)rect.Attribute("class") == "recommended");
        GridFrame grid = new(Samples.Plan(), showsSides: false);
        Box place = grid.At(0, 5);
        Assert.InRange(double.Parse(frame.Attribute("x")!.Value, CultureInfo.InvariantCulture), place.X, place.X + 3);
        Assert.InRange(double.Parse(frame.Attribute("y")!.Value, CultureInfo.InvariantCulture), place.Y, place.Y + 3);
        Assert.Single(map.Descendants("text"), text => (string?)text.Attribute("class") == "strong" && text.Value == "1");
    }

    [Fact]
    public void Axes_carry_names_units_and_all_values()
    {
        string[] texts = [.. Map(Samples.Engraved()).Descendants("text").Select(text => text.Value)];

        Assert.Contains("Power, %", texts);
        Assert.Contains("Speed, mm/min", texts);
        foreach (string value in new[] { "20", "36", "52", "68", "84", "100", "800", "4000" }) Assert.Contains(value, texts);
    }

    [Fact]
    public void An_open_share_tells_when_a_side_is_missing_from_it()
    {
        string[] values = [.. Values(Map(Samples.Cut())).Select(value => value.Value)];

        Assert.Equal(2, values.Count(value => value == "of 3"));
    }

    [Fact]
    public void A_cut_card_shows_the_open_share_and_its_sides()
    {
        XElement map = Map(Samples.Cut());

        Assert.Contains("100 %", Values(map).Select(value => value.Value));
        Assert.Contains(map.Descendants("path"), path => (string?)path.Attribute("stroke") == InkColours.Line(Ink.Through).Hex);
        Assert.Contains(map.Descendants("path"), path => (string?)path.Attribute("stroke") == InkColours.Line(Ink.Held).Hex);
        Assert.Contains(map.Descendants("circle"), circle => (string?)circle.Attribute("fill") == InkColours.Line(Ink.Unseen).Hex);
    }
}
