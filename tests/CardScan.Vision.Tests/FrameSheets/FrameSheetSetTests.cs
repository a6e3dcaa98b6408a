using CardScan.Model;
using Xunit.Abstractions;

namespace CardScan.Vision.Tests.FrameSheets;

/// <summary>A set of photos in which everything is disturbed at once, by chance but the same in every run.</summary>
public sealed class FrameSheetSetTests(ITestOutputHelper output)
{
    private const int Photos = 12;

    /// <summary>A cell this far from its place would be measured wrong.</summary>
    private const double WrongMm = 0.3;

    [Fact]
    public void No_photo_of_a_set_is_read_wrong_without_a_word()
    {
        List<string> wrong = [];
        List<double> places = [], darkness = [];
        int refused = 0;
        for (int seed = 0; seed < Photos; seed++)
        {
            FrameScene scene = By(new Random(seed));
            Outcome<SeenCard> outcome = FramePhoto.Read(scene);
            if (outcome.IsRefused)
            {
                refused++;
                output.WriteLine($"{seed}: {outcome.Refusal}");
                continue;
            }

            FramePhoto photo = new(scene, outcome.Value.Reading);
            output.WriteLine(
                $"{seed}: {photo.Frame} place {photo.PlaceErrorMm:F3} darkness {photo.DarknessRms:F3} "
                    + $"{string.Join(' ', photo.WarningCodes)}");
            places.Add(photo.PlaceErrorMm);
            if (photo.Frame.GreyRms is not null) darkness.Add(photo.DarknessRms);
            if (photo.PlaceErrorMm > WrongMm) wrong.Add($"{seed}: {photo.PlaceErrorMm:F2} mm");
        }

        output.WriteLine(
            $"{refused} refused; places median {places.Order().ElementAt(places.Count / 2):F3}, worst {places.Max():F3} mm; "
                + $"darkness worst {darkness.Max():F3}, median {darkness.Order().ElementAt(darkness.Count / 2):F3}");
        Assert.Empty(wrong);
        Assert.InRange(places.Max(), 0, 0.1);
        Assert.InRange(darkness.Max(), 0, 0.06);
        Assert.InRange(refused, 0, Photos / 5);
    }

    private static FrameScene By(Random random)
    {
        PlanFile plan =
            FramePlans.Grid(random.Next(3, 6), random.Next(2, 5), cellMm: 6 + 3 * random.NextDouble(), gapMm: 4 + 3 * random.NextDouble());
        (double width, double height) = (plan.Plan.Card.WidthMm, plan.Plan.Card.HeightMm);
        bool isLighter = random.Next(4) == 0;
        int columns = plan.Plan.Columns.Values.Count, rows = plan.Plan.Rows.Values.Count;
        double least = random.NextDouble() < 0.4 ? -0.25 : 0.08;
        return new()
        {
            Plan = plan,
            // Weak corners are bare, the strongest ones are alike.
            Darkness = cell =>
                (isLighter ? -0.5 : 1) * Math.Clamp(least + 1.1 * (cell.Column + rows - 1 - cell.Row) / (columns + rows - 2), 0, 0.9),
            Bare = isLighter ? 0.1 + 0.1 * random.NextDouble() : 0.3 + 0.25 * random.NextDouble(),
            OffsetMm = (10 * random.NextDouble() - 5, 10 * random.NextDouble() - 5),
            TurnDeg = 9 * random.NextDouble() - 4.5,
            HeightMm = 9 * random.NextDouble() - 3,
            PrintScale = 0.97 + 0.05 * random.NextDouble(),
            Camera = new()
            {
                WidthPx = 1600,
                HeightPx = 1200,
                DistanceMm = 1.35 * Math.Max(width * 0.9, height * 1.2),
                AimMm = (width / 2, height / 2),
                TiltDeg = 20 * random.NextDouble(),
                RollDeg = 8 * random.NextDouble() - 4 + 180 * random.Next(2),
                K1 = 0.03 * random.NextDouble() - 0.02,
            },
            Tone = FrameScene.Contrasty(0.7 * random.NextDouble()),
            Light = Sloped(0.3 * random.NextDouble(), 0.3 * random.NextDouble(), width, height),
            Grain = 0.03 * random.NextDouble(),
            BlurPx = 0.6 + random.NextDouble(),
            Noise = 0.002 + 0.008 * random.NextDouble(),
        };
    }

    private static Func<double, double, double> Sloped(double across, double down, double width, double height) =>
        (x, y) => 1 - across * x / width - down * y / height;
}
