namespace CardScan.Model.Tests;

public class SrgbCurveTests
{
    /// <summary>
    /// IEC 61966-2-1: the two branches meet at 0.0031308 and 0.04045. Middle codes from memory: 0.5 is 21.4 % of the light.
    /// </summary>
    [Theory]
    [InlineData(0, 0)]
    [InlineData(0.04045, 0.0031308)]
    [InlineData(0.5, 0.2140411)]
    [InlineData(1, 1)]
    public void A_code_has_the_light_of_the_standard(double code, double light)
    {
        Assert.Equal(light, SrgbCurve.Linear(code), 1e-6);
        Assert.Equal(code, SrgbCurve.Code(light), 1e-6);
    }

    [Fact]
    public void Every_code_of_8_bits_comes_back() =>
        Assert.All(Enumerable.Range(0, 256), code => Assert.Equal(code, SrgbCurve.Byte(SrgbCurve.Linear(code / 255.0))));
}
