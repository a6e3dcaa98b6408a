using System.Runtime.InteropServices;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A point of a drawing, in the drawing's own unit: mm on a card, px on a chart; x right, y down.</summary>
[StructLayout(LayoutKind.Auto)]
internal readonly record struct Point(double X, double Y)
{
    public static Point operator +(Point a, Point b) => new(a.X + b.X, a.Y + b.Y);

    public static Point operator -(Point a, Point b) => new(a.X - b.X, a.Y - b.Y);

    public static Point operator *(Point a, double factor) => new(a.X * factor, a.Y * factor);

    public double Length => Math.Sqrt(X * X + Y * Y);
}

/// <summary>What a line means, and so what colour it has.</summary>
internal enum Ink
{
    /// <summary>The edge of a cell.</summary>
    Outline,

    /// <summary>A recommended cell.</summary>
    Recommended,

    /// <summary>A side that is through.</summary>
    Through,

    /// <summary>A side that holds.</summary>
    Held,

    /// <summary>A side that could not be judged.</summary>
    Unseen,
}

/// <summary>Something drawn over a photo or a chart. Every mark has a casing, so that it shows on light and on dark ground.</summary>
internal abstract record Mark;

/// <summary>A line through points, with a casing that is so many times as wide.</summary>
internal sealed record StrokeMark(
    ValueList<Point> Points, double Width, Ink Ink, bool IsClosed = false, double? Dash = null, double CasingFactor = 2) : Mark
{
    /// <summary>Width of the casing.</summary>
    public double CasedWidth => CasingFactor * Width;
}

/// <summary>A round dot, with a casing.</summary>
internal sealed record DotMark(Point Center, double Radius, Ink Ink) : Mark;

/// <summary>A light plate that text stands on.</summary>
internal sealed record PlateMark(double X, double Y, double Width, double Height) : Mark;

/// <summary>
/// A line of text, centred at a point of its baseline; <paramref name="Width"/> is its length as measured in the drawing's
/// typeface.
/// </summary>
internal sealed record TextMark(string Text, Point Baseline, double Size, double Width) : Mark;

/// <summary>A number in a disc.</summary>
internal sealed record BadgeMark(string Text, Point Center, double Radius) : Mark;

/// <summary>The colours of the marks.</summary>
/// <remarks>
/// Blue, vermilion and yellow of the set by M. Okabe and K. Ito, Color Universal Design (2008),
/// https://jfly.uni-koeln.de/color/, which stay apart for colour-blind eyes; shapes differ besides.
/// </remarks>
internal static class InkColours
{
    public static readonly Rgb TextColour = Rgb.FromHex("#111111");

    public static Rgb Line(Ink ink) => ink switch
    {
        Ink.Recommended => Rgb.FromHex("#f0e442"),
        Ink.Through => Rgb.FromHex("#0072b2"),
        Ink.Held => Rgb.FromHex("#d55e00"),
        Ink.Unseen => Rgb.FromHex("#4a4a4a"),
        _ => Rgb.FromHex("#111111"),
    };

    /// <summary>The casing: dark around the light ink, light around the dark ones.</summary>
    public static Rgb Casing(Ink ink) => ink == Ink.Recommended ? Rgb.FromHex("#111111") : Rgb.White;
}
