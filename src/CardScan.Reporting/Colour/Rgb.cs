using System.Runtime.InteropServices;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A colour of the sRGB space (IEC 61966-2-1), 0 to 255 a channel.</summary>
[StructLayout(LayoutKind.Auto)]
internal readonly record struct Rgb(byte R, byte G, byte B)
{
    public static readonly Rgb Black = new(0, 0, 0);
    public static readonly Rgb White = new(255, 255, 255);

    /// <summary>As CSS and SVG write it, <c>#rrggbb</c>.</summary>
    public string Hex => $"#{R:x2}{G:x2}{B:x2}";

    /// <summary>Reads <c>#rrggbb</c>.</summary>
    public static Rgb FromHex(string hex)
    {
        byte[] channels = Convert.FromHexString(hex.AsSpan(1));
        return new(channels[0], channels[1], channels[2]);
    }

    /// <summary>Relative luminance Y, 0 black to 1 white.</summary>
    /// <remarks>WCAG 2.2, "relative luminance": https://www.w3.org/TR/WCAG22/#dfn-relative-luminance.</remarks>
    public double Luminance01 => 0.2126 * Linear(R) + 0.7152 * Linear(G) + 0.0722 * Linear(B);

    /// <summary>Contrast of two colours, 1 to 21.</summary>
    /// <remarks>
    /// WCAG 2.2, "contrast ratio": https://www.w3.org/TR/WCAG22/#dfn-contrast-ratio; text needs 4.5 (success criterion 1.4.3).
    /// </remarks>
    public static double ContrastRatio(Rgb a, Rgb b)
    {
        (double dark, double light) = (Math.Min(a.Luminance01, b.Luminance01), Math.Max(a.Luminance01, b.Luminance01));
        return (light + 0.05) / (dark + 0.05);
    }

    /// <summary>Black or white, whichever reads better on this colour: at least 4.58 on any, since √21 = 4.58.</summary>
    public Rgb ReadableInk => ContrastRatio(this, Black) >= ContrastRatio(this, White) ? Black : White;

    private static double Linear(byte channel) => SrgbCurve.Linear(channel / 255.0);
}
