using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Soot that the extraction leaves on one side of the cells, and scorch that goes round them.</summary>
public sealed class SootTests
{
    /// <summary>Reach of a plume, mm, and what it takes of the light at its start.</summary>
    private const double PlumeMm = 8, PlumeLoss = 0.35;

    [Theory]
    [InlineData(1, 0, "to the right of")]
    [InlineData(0, -1, "to the top of")]
    [InlineData(0.7, 0.7, "to the bottom right of")]
    public void Soot_on_one_side_is_told_and_is_no_halo(double x, double y, string where)
    {
        Photographed sooty = Photographed.Of(Card((cell, px, py) => 1 - Soot(cell, px, py, x, y)));

        Assert.Contains(where, Assert.Single(sooty.Photo.Warnings, warning => warning.Code == "soot").Message, StringComparison.Ordinal);
        // Without any scorch it should be 0; what is left of a plume that lies on two sides stays under the usual limit of 1 mm.
        Assert.True(Halos(sooty).Max() < 1, string.Join(" ", Halos(sooty)));
    }

    [Fact]
    public void A_halo_that_goes_round_its_cell_is_one_with_and_without_soot()
    {
        Photographed scorched = Photographed.Of(Card(Scorch));
        Photographed both = Photographed.Of(Card((cell, px, py) => Scorch(cell, px, py) * (1 - Soot(cell, px, py, 1, 0))));

        Assert.DoesNotContain("soot", scorched.WarningCodes);
        Assert.Contains("soot", both.WarningCodes);
        // Scorch of 0.5 at the edge that fades over 0.6 mm takes 5 % at 0.6 ln 10 mm.
        double expected = 0.6 * Math.Log(10);
        Assert.All(Halos(scorched), halo => Assert.Equal(expected, halo, 0.25));
        Assert.Equal(expected, Halos(both).Average(), 0.4);
    }

    private static double[] Halos(Photographed photo) => [.. photo.Reading.Cells.Select(cell => cell.HaloMm!.Value)];

    private static Scene Card(Func<Cell, double, double, double> around)
    {
        ValueList<Cell> cells = TestPlans.Engraved().Plan.Cells;
        return new()
        {
            Noise = 0.003,
            Light = (x, y) => cells.Any(cell => DistanceMm(cell, x, y) <= 0)
                ? 1
                : cells.Aggregate(1.0, (light, cell) => light * around(cell, x, y)),
        };
    }

    private static double Scorch(Cell cell, double x, double y) => 1 - 0.5 * Math.Exp(-DistanceMm(cell, x, y) / 0.6);

    /// <summary>What a plume takes that begins at the cell and goes one way, as wide as the cell.</summary>
    private static double Soot(Cell cell, double x, double y, double alongX, double alongY)
    {
        double dx = x - cell.XMm - cell.WidthMm / 2, dy = y - cell.YMm - cell.HeightMm / 2;
        double along = dx * alongX + dy * alongY, across = Math.Abs(dx * alongY - dy * alongX), half = cell.WidthMm / 2;
        return along < 0 || across > half || along > half + PlumeMm ? 0 : PlumeLoss * Math.Min(1, 1 - (along - half) / PlumeMm);
    }

    private static double DistanceMm(Cell cell, double x, double y)
    {
        double right = Math.Max(cell.XMm - x, x - cell.XMm - cell.WidthMm), down = Math.Max(cell.YMm - y, y - cell.YMm - cell.HeightMm);
        return right > 0 && down > 0 ? Math.Sqrt(right * right + down * down) : Math.Max(right, down);
    }
}
