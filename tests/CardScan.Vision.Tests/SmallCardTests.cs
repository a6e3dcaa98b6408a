using CardScan.Model;
using CardScan.Planning;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>
/// Cards as small as the planner makes them, rendered as a phone sees them. The whole study is in docs/method/small-cards.md.
/// </summary>
public sealed class SmallCardTests
{
    /// <summary>The planner's own card of 86 mm × 54 mm: cells of 4 mm, gaps of 3 mm, markers of 6 mm, all at their limits.</summary>
    private static readonly PlanFile Small = FileOf(CardPlanner.MakePlan(CardPlanner.FitToCard(new()
    {
        Number = TestPlans.Number,
        Material = new() { Name = "anodised board" },
        Machine = new() { Name = "rendered", RatedOpticalWatts = 10 },
        Settings = [new(Setting.PowerPercent, [20, 40, 60, 80, 100]), new(Setting.SpeedMmPerMin, [1000, 2000, 3000, 4000])],
        Card = new() { WidthMm = SmallCards.WidthMm, HeightMm = SmallCards.HeightMm },
    })).Value);

    [Theory]
    [InlineData(33, 4, 3, 0.01)] // 12 megapixels, seven tenths of the frame filled
    [InlineData(20, 25, -8, 0.01)]
    [InlineData(12, 15, 5, 0.03)]
    public void A_card_of_86_by_54_mm_is_read_within_the_stated_errors(double pxPerMm, double tiltDeg, double rollDeg, double placeMm)
    {
        Photographed photo = Photographed.Of(SceneOf(Small, pxPerMm, tiltDeg, rollDeg), jpegQuality: 85);

        Assert.Equal(20, photo.Usable.Count());
        Assert.InRange(photo.Usable.Max(photo.PlaceErrorMm), 0, placeMm);
        Assert.All(photo.Usable, cell => Assert.InRange(Math.Abs(photo.DarknessError(cell)), 0, 4 * cell.Darkness!.StandardError));
        Assert.InRange(Math.Sqrt(photo.Usable.Average(cell => Math.Pow(photo.DarknessError(cell), 2))), 0, 0.015);
        Assert.Empty(photo.WarningCodes);
    }

    [Fact]
    public void Char_half_a_millimetre_wide_leaves_the_narrow_gap_bare_enough()
    {
        Scene plain = SceneOf(Small, 20, 10, 3);
        Func<double, double, double> halo = SmallCards.Halo(Small.Plan, loss: 0.25, fadeMm: 0.3);
        Photographed photo = Photographed.Of(plain with { Light = (x, y) => plain.Light(x, y) * halo(x, y) }, jpegQuality: 85);

        Assert.Equal(20, photo.Usable.Count());
        Assert.InRange(Math.Sqrt(photo.Usable.Average(cell => Math.Pow(photo.DarknessError(cell), 2))), 0, 0.015);
    }

    [Fact]
    public void Cells_of_three_millimetres_are_read()
    {
        Photographed photo = Photographed.Of(SceneOf(SmallCards.PlanOf(new(6, 3, 3)), 20, 12, 4), jpegQuality: 85);

        Assert.Equal(20, photo.Usable.Count());
        Assert.InRange(photo.Usable.Max(photo.PlaceErrorMm), 0, 0.02);
        Assert.InRange(Math.Sqrt(photo.Usable.Average(cell => Math.Pow(photo.DarknessError(cell), 2))), 0, 0.02);
    }

    private static Scene SceneOf(PlanFile plan, double pxPerMm, double tiltDeg, double rollDeg) => new()
    {
        Plan = plan,
        Camera = SmallCards.Phone(plan.Plan.Card, pxPerMm, tiltDeg, rollDeg),
        Darkness = cell => 0.08 + 0.16 * cell.Column + 0.03 * cell.Row,
        Light = (x, y) => Math.Exp(0.02 * Streaks.At(x + 41, y + 77)) * (1 - 0.004 * x),
        BlurPx = 1.2,
        Noise = 0.008,
    };

    private static PlanFile FileOf(Plan plan) =>
        new(plan, CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(CardJson.Write(plan))));
}
