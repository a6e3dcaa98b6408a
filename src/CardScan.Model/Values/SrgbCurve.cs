namespace CardScan.Model;

/// <summary>The transfer curve of sRGB (IEC 61966-2-1): from what a file or screen holds to light, and back.</summary>
public static class SrgbCurve
{
    /// <summary>The light of a code.</summary>
    /// <param name="code01">A channel's code, from 0 (black) to 1.</param>
    /// <returns>Linear light, from 0 to 1.</returns>
    public static double Linear(double code01) => code01 <= 0.04045 ? code01 / 12.92 : Math.Pow((code01 + 0.055) / 1.055, 2.4);

    /// <summary>The code of a light.</summary>
    /// <param name="linear01">Linear light, from 0 to 1.</param>
    /// <returns>A channel's code, from 0 to 1.</returns>
    public static double Code(double linear01) => linear01 <= 0.0031308 ? 12.92 * linear01 : 1.055 * Math.Pow(linear01, 1 / 2.4) - 0.055;

    /// <summary>The nearest code of 8 bits.</summary>
    /// <param name="linear01">Linear light, from 0 to 1.</param>
    public static byte Byte(double linear01) => (byte)Math.Round(255 * Code(linear01));
}
