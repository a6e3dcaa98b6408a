namespace CardScan.Model.Tests;

public sealed class CieLightnessTests
{
    // 18 % grey is L* 49.50 (CIE 15:2004 formula worked by hand: 116 · 0.18^(1/3) − 16 = 49.496); black and white by definition;
    // below (6/29)³ L* = 903.3 · Y, so 0.005 gives 4.52 (24389/27 · 0.005 = 4.5165).
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.005, 4.5165)]
    [InlineData(0.18, 49.496)]
    [InlineData(1, 100)]
    public void Lightness_follows_the_standard(double luminance, double lightness)
    {
        Assert.Equal(lightness, CieLightness.Of(luminance), 1e-3);
        Assert.Equal(luminance, CieLightness.LuminanceAt(CieLightness.Of(luminance)), 1e-12);
    }
}
