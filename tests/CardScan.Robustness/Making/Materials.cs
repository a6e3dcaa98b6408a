using CardScan.Vision.Tests.Rendering;

namespace CardScan.Robustness;

/// <summary>A material: invented figures of the kinds that makers burn.</summary>
/// <param name="Name">What it is like.</param>
/// <param name="Bare">Colour, linear light; only the ratios of the channels count.</param>
/// <param name="Marked">Luminance of the strongest mark against bare; above 1 where burning makes it lighter.</param>
/// <param name="BurnTint">Share of the darkness that each channel takes.</param>
/// <param name="Grain">Standard deviation of the grain, natural log.</param>
/// <param name="GrainMm">Length and width of its streaks, mm.</param>
/// <param name="Veil">Most light that a coat mirrors from the room, against bare material.</param>
internal sealed record SurfaceKind(
    string Name, (double R, double G, double B) Bare, double Marked, (double R, double G, double B) BurnTint, double Grain,
    (double Length, double Width) GrainMm, double Veil = 0)
{
    /// <summary>
    /// The brightest channel of bare material against its luminance; where burning makes it lighter the marks are greyer, and decide.
    /// </summary>
    public double BrightestChannel =>
        Marked > 1 ? 1 : Math.Max(Bare.R, Math.Max(Bare.G, Bare.B)) / (0.2126 * Bare.R + 0.7152 * Bare.G + 0.0722 * Bare.B);

    /// <summary>Factor of the light at a point, by the grain.</summary>
    /// <param name="xMm">Place on an endless board, mm.</param>
    /// <param name="yMm">The same.</param>
    public double GrainAt(double xMm, double yMm) =>
        Math.Exp(Grain * Streaks.At(xMm * Streaks.LengthMm / GrainMm.Length, yMm * Streaks.WidthMm / GrainMm.Width));
}

/// <summary>The materials of the generator.</summary>
internal static class Materials
{
    private static readonly (double, double, double) Brown = (0.9, 1, 1.15), Neutral = (1, 1, 1);

    public static readonly IReadOnlyList<SurfaceKind> All = [
        new("pale wood", (0.60, 0.47, 0.31), 0.15, Brown, 0.03, (12, 0.5)),
        new("strong grain", (0.50, 0.36, 0.22), 0.18, Brown, 0.12, (25, 1.5)),
        new("dark, mottled", (0.10, 0.075, 0.05), 0.35, Brown, 0.12, (3, 2)),
        new("glossy", (0.30, 0.31, 0.33), 0.12, Neutral, 0.005, (10, 10), Veil: 0.1),
        new("slate, burns lighter", (0.06, 0.06, 0.065), 4.5, Neutral, 0.06, (6, 4)),
        new("blue anodised, burns lighter", (0.04, 0.06, 0.22), 7, (0.9, 1, 0.4), 0.01, (15, 0.3), Veil: 0.05),
        new("red card", (0.42, 0.06, 0.05), 0.3, (1.3, 0.6, 0.6), 0.02, (2, 2)),
        new("white board", (0.80, 0.79, 0.76), 0.12, Brown, 0.005, (1, 1)),
    ];
}
