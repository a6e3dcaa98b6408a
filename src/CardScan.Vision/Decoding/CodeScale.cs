using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What the codes of a picture's channels stand for.</summary>
/// <param name="LinearOfCode">Linear light of each of 256 codes, 0 to 1.</param>
/// <param name="ClippedCode">From this code on a channel counts as clipped.</param>
/// <param name="Shifts">The ways in which that may be off.</param>
internal sealed record CodeScale(float[] LinearOfCode, byte ClippedCode, ToneShift[] Shifts)
{
    /// <summary>LibRaw's curve is that of Recommendation ITU-R BT.709-6, item 1.2, its constants to more digits.</summary>
    private const double Power = 0.45, Slope = 4.5, Offset = 0.099296826809442, Start = 0.018053968510807;

    /// <summary>A sensor's black is known to this share of its scale: half a step of 10 bits (no source).</summary>
    private const double BlackError = 0.5 / 1023;

    /// <summary>sRGB codes as a phone made them, bent in its own way; cameras round their shoulder off just below 255.</summary>
    public static CodeScale Srgb { get; } = new(Table(SrgbCurve.Linear), 250, ToneBend.Lowest);

    /// <summary>
    /// Light as the sensor saw it. A sensor's scale ends at once: only the last codes are those of clipped pixels.
    /// </summary>
    public static CodeScale Raw { get; } = new(Table(LinearOfRaw), 254, [BlackShift]);

    private static double LinearOfRaw(double code) =>
        code < Slope * Start ? code / Slope : Math.Pow((code + Offset) / (1 + Offset), 1 / Power);

    /// <summary>The nearest code of a light, 0 to 1, in a raw photo.</summary>
    public static byte RawCodeOf(double linear) =>
        (byte)Math.Round(255 * (linear < Start ? Slope * linear : (1 + Offset) * Math.Pow(linear, Power) - Offset));

    private static double BlackShift(double logRatio, double bare) =>
        Math.Log((bare * Math.Exp(logRatio) + BlackError) / (bare + BlackError)) - logRatio;

    private static float[] Table(Func<double, double> linear) => [.. Enumerable.Range(0, 256).Select(code => (float)linear(code / 255.0))];
}
