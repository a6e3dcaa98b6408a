using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Benchmarks;

/// <summary>The photo to be timed, with its plan.</summary>
internal sealed record BenchmarkPhoto(string Name, byte[] Bytes, PlanFile Plan)
{
    /// <summary>From files.</summary>
    public static BenchmarkPhoto Load(string photo, string plan) =>
        new(Path.GetFileName(photo), File.ReadAllBytes(photo), CardJson.ReadPlan(File.ReadAllBytes(plan)).Value);

    /// <summary>The one that the environment names, or a rendered one.</summary>
    public static BenchmarkPhoto Given() =>
        Environment.GetEnvironmentVariable("CARDSCAN_PHOTO") is { } photo && Environment.GetEnvironmentVariable("CARDSCAN_PLAN") is { } plan
            ? Load(photo, plan)
            : Rendered();

    /// <summary>12 megapixels, with the grain and noise that make a JPEG as heavy as a phone's.</summary>
    private static BenchmarkPhoto Rendered()
    {
        Scene scene = new()
        {
            Camera = new() { WidthPx = 4032, HeightPx = 3024, TiltDeg = 8, RollDeg = 4, K1 = -0.01 },
            Light = (x, y) => Math.Exp(-x / 400 - y / 600),
            Grain = 0.04,
            Noise = 0.008,
            BlurPx = 1.2,
            MarkerBleedMm = 0.05,
        };
        return new("rendered", SceneRenderer.Render(scene).ToJpeg(90), scene.Plan);
    }
}
