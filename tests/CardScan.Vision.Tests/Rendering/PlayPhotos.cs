using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>Cards planned, burned by a machine with play, and photographed.</summary>
internal static class PlayPhotos
{
    private static readonly Machine Bench = new()
    {
        Name = "rendered bench",
        RatedOpticalWatts = 10,
        FullPowerS = 1000,
        FastestFeedMmPerMin = 6000,
        WorkArea = new() { WidthMm = 400, HeightMm = 400 },
    };

    /// <summary>A card of five powers by four speeds, and its machine file.</summary>
    /// <param name="followsSpeed">True for power that follows the speed: lines then have no run-up.</param>
    /// <param name="number">0 to 14: the order of burning differs from one to the next.</param>
    public static (PlanFile Plan, string MachineFile) Card(bool followsSpeed, int number)
    {
        Plan plan = CardPlanner.MakePlan(new()
        {
            Number = number,
            Material = new() { Name = "grey board" },
            Machine = Bench with { BeamMode = followsSpeed ? BeamMode.FollowsSpeed : null },
            Settings =
            [
                new(Setting.PowerPercent, [30, 45, 60, 75, 90]),
                new(Setting.SpeedMmPerMin, [1200, 1700, 2400, 3400]),
            ],
            Mark = new() { PowerPercent = 90, SpeedMmPerMin = 1200 },
        }).Value;
        byte[] json = System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan));
        return (new(plan, CardJson.Sha256(json)), CardPlanner.WriteMachineFile(plan).Value);
    }

    /// <summary>What a phone may do to a card: tilt, turn, light, grain, blur, noise, drawn by chance.</summary>
    /// <param name="plan">The card.</param>
    /// <param name="pxPerMm">Scale of the photo.</param>
    /// <param name="seed">Same seed, same photo.</param>
    /// <param name="bowMm">How far the card's middle stands up.</param>
    public static Scene SceneOf(PlanFile plan, double pxPerMm, int seed, double bowMm = 0)
    {
        Random random = new(seed);
        double board = 300 * random.NextDouble(), shade = random.NextDouble(), grain = 0.05 * random.NextDouble();
        (double width, double height) = (plan.Plan.Card.WidthMm, plan.Plan.Card.HeightMm);
        TestCamera camera = SmallCards.Phone(plan.Plan.Card, pxPerMm, 25 * random.NextDouble(),
            30 * random.NextDouble() - 15 + (random.Next(2) == 0 ? 0 : 180));
        camera = camera with
        {
            HeightMm = bowMm == 0 ? null : (x, _) => bowMm * (1 - Math.Pow(2 * x / width - 1, 2)),
        };
        return new()
        {
            Plan = plan,
            Camera = camera with { K1 = 0 },
            Light = (x, y) => Math.Exp(grain * Streaks.At(x + board, y + board)) * (1 - 0.003 * shade * x),
            BlurPx = 0.6 + 0.6 * random.NextDouble(),
            Noise = 0.004 + 0.008 * random.NextDouble(),
        };
    }
}
