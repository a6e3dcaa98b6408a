using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>
/// The front-lit photo of the demo's cut card: lime board in a room's light, char beside the cuts growing with their energy.
/// </summary>
internal static class LimeCard
{
    /// <summary>JPEG quality of the shipped photo.</summary>
    public const int Quality = 85;

    /// <summary>Folder of the card.</summary>
    public static string Folder => Path.Combine(AppContext.BaseDirectory, "fixtures", "demo-cut");

    /// <summary>The card as a phone 220 mm above it sees it.</summary>
    public static BackLitScene FrontLit(PlanFile plan) => new()
    {
        Room = new()
        {
            Plan = plan,
            Camera = new() { WidthPx = 2000, HeightPx = 1500, FocalLength35Mm = 52, DistanceMm = 220, RollDeg = -3, K1 = -0.01 },
            Darkness = _ => 0,
            Bare = (0.63, 0.5, 0.33),
            MarkerRatio = 0.1,
            MarkerBleedMm = 0.05,
            // The board's grain runs down the card, as in the back-lit photos.
            Light = (x, y) => Math.Exp(-(x + y) / 900 + 0.04 * Streaks.At(y, x)),
        },
        Cut = cell => new(Upright, Upright, Level, Level) { IsDropped = cell is { Row: 0, Column: 4 or 5 } },
        GrooveRatio = 0.06,
        HaloMm = cell => 0.06 + 0.04 * JoulesPerMm(plan.Plan, cell),
        Lamp = (_, _) => 0.05,
        BlurPx = 0.9,
        Noise = 0.003,
        ThicknessMm = plan.Plan.Material.ThicknessMm!.Value,
    };

    private static CutSide Upright { get; } = new() { ThroughMm = 0.32, FaceMm = 0.41 };

    private static CutSide Level { get; } = new() { ThroughMm = 0.28, FaceMm = 0.36 };

    /// <summary>Energy along the path: optical power over speed, times passes.</summary>
    private static double JoulesPerMm(Plan plan, Cell cell)
    {
        CellSettings settings = plan.SettingsOf(cell);
        return plan.Machine.RatedOpticalWatts * settings.PowerPercent / 100 * settings.Passes / (settings.SpeedMmPerMin / 60);
    }
}
