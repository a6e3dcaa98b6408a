using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>
/// The photo of the demo's second batch: invented data. Its marks follow the law that was fitted to the first card's
/// reading (docs/method/comparing.md), with every dose 1.12 times as high, and some chance from cell to cell.
/// </summary>
internal static class SecondBirchCard
{
    /// <summary>Energy this batch needs over that of the first card.</summary>
    public const double RelativeDose = 1.12;

    /// <summary>JPEG quality of the shipped photo.</summary>
    public const int Quality = 85;

    private const double Plateau = 0.853, ScaleDose = 1.039, ThresholdDose = 0.091, Shape = 1.22, SpeedExponent = 0.908, MiddleSpeed = 2200;

    /// <summary>Folder of the card.</summary>
    public static string Folder => Path.Combine(AppContext.BaseDirectory, "fixtures", "demo-birch-second");

    /// <summary>The card as a phone 190 mm above it sees it.</summary>
    public static Scene Seen(PlanFile plan) => new()
    {
        Plan = plan,
        Camera = new() { FocalLength35Mm = 40, DistanceMm = 190, TiltDeg = 5, RollDeg = 2.5, K1 = -0.008 },
        Darkness = cell => -Math.Log10(1 - Strength(plan.Plan, cell) * (1 + 0.015 * Streaks.At(31 * cell.Column + 7, 3 * cell.Row + 1))),
        Bare = (0.60, 0.47, 0.31),
        MarkerRatio = 0.12,
        MarkerBleedMm = 0.04,
        Light = (x, y) => Math.Exp((x - 0.6 * y) / 1200),
        Grain = 0.03,
        BlurPx = 0.8,
        Noise = 0.004,
    };

    private static double Strength(Plan plan, Cell cell)
    {
        CellSettings settings = plan.SettingsOf(cell);
        double dose = settings.DoseOf(Process.Engrave, plan.Machine.RatedOpticalWatts)!.Value
            * Math.Pow(settings.SpeedMmPerMin / MiddleSpeed, 1 - SpeedExponent);
        double above = Math.Max(0, dose / RelativeDose - ThresholdDose);
        return Plateau * (1 - Math.Exp(-Math.Pow(above / ScaleDose, Shape)));
    }
}
