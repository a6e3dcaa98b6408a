namespace CardScan.Reporting.Tests;

public sealed class ColourTests
{
    // WCAG 2.2, "contrast ratio"; black on white is 21 by the definition itself. The greys are the pair on either side of
    // 4.5 that accessibility guides quote (4.54 and 4.48; common practice, no source).
    [Theory]
    [InlineData("#000000", "#ffffff", 21.0)]
    [InlineData("#767676", "#ffffff", 4.54)]
    [InlineData("#777777", "#ffffff", 4.48)]
    [InlineData("#ffffff", "#ffffff", 1.0)]
    public void The_contrast_ratio_is_that_of_WCAG(string a, string b, double expected) =>
        Assert.Equal(expected, Rgb.ContrastRatio(Rgb.FromHex(a), Rgb.FromHex(b)), 2);

    [Fact] // WCAG 2.2, success criterion 1.4.3
    public void Numbers_on_every_heat_colour_have_a_contrast_of_at_least_4_5()
    {
        for (int i = 0; i < HeatColours.Count; i++)
        {
            Rgb colour = HeatColours.Entry(i);
            Assert.True(Rgb.ContrastRatio(colour, colour.ReadableInk) >= 4.5, $"entry {i}");
        }
    }

    [Theory]
    // First and last entry of the published table (Nuñez, Anderton, Renslow 2018), 0–1: (0, 0.135112, 0.304751) and
    // (0.995737, 0.909344, 0.217772).
    [InlineData(0, 0.0, 0.135112, 0.304751)]
    [InlineData(255, 0.995737, 0.909344, 0.217772)]
    public void The_ends_of_the_heat_colours_are_those_published(int entry, double r, double g, double b)
    {
        Rgb colour = HeatColours.Entry(entry);

        // Within the rounding to eight bits.
        Assert.InRange(colour.R - 255 * r, -0.5, 0.5);
        Assert.InRange(colour.G - 255 * g, -0.5, 0.5);
        Assert.InRange(colour.B - 255 * b, -0.5, 0.5);
    }

    [Fact]
    public void Heat_colours_grow_evenly_lighter()
    {
        double[] lightness = [.. Enumerable.Range(0, HeatColours.Count).Select(i => Lightness(HeatColours.Entry(i)))];

        for (int i = 1; i < lightness.Length; i++) Assert.True(lightness[i] > lightness[i - 1] - 0.15, $"entry {i}"); // 8-bit steps
        double mean = (lightness[^1] - lightness[0]) / 16;
        for (int i = 0; i + 16 < lightness.Length; i += 16)
        {
            // Even: no sixteenth of the scale rises by less than half or more than one and a half of the mean.
            Assert.InRange((lightness[i + 16] - lightness[i]) / mean, 0.5, 1.5);
        }
    }

    [Theory]
    [InlineData(-3, 0)]
    [InlineData(0, 0)]
    [InlineData(0.5, 128)]
    [InlineData(1, 255)]
    [InlineData(7, 255)]
    public void A_share_of_the_scale_gets_its_entry_and_what_lies_outside_the_end(double share, int entry) =>
        Assert.Equal(HeatColours.Entry(entry), HeatColours.At(share));

    /// <summary>CIE 1976 L* of relative luminance (ISO/CIE 11664-4).</summary>
    private static double Lightness(Rgb colour)
    {
        double y = colour.Luminance01;
        return y > 216.0 / 24389 ? 116 * Math.Cbrt(y) - 16 : 24389.0 / 27 * y;
    }
}
