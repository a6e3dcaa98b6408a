namespace CardScan.Vision.Tests;

public sealed class EdgeSpreadTests
{
    public static TheoryData<double, double> Gaussians()
    {
        TheoryData<double, double> all = [];
        // MTF50 of a Gaussian spread: 0.18739/σ (exp(−2π²σ²f²) = ½).
        // A spread beyond 3 px leaves the profile's ends no room; photos so soft are refused long before.
        foreach (ReferenceRow row in ReferenceTable.Read("mtf50_gaussian.csv").Where(row => row.Number("sigma_px") is >= 0.7 and <= 3))
            all.Add(row.Number("sigma_px"), row.Number("mtf50_gaussian_cyc_per_px"));
        return all;
    }

    [Theory]
    [MemberData(nameof(Gaussians))]
    public void An_edge_at_5_degrees_gives_the_MTF50_of_its_Gaussian_spread(double sigmaPx, double expected)
    {
        // Point samples of I(d) = 0.2 + 0.6 Φ(d/σ), as those the table's own estimates were made of.
        EdgeSpread spread = new();
        double sin = Math.Sin(5 * Math.PI / 180), cos = Math.Cos(5 * Math.PI / 180);
        for (int y = -64; y < 64; y++)
        {
            for (int x = -64; x < 64; x++)
            {
                double distance = x * cos + y * sin;
                spread.Add(distance, NormalShare(distance / sigmaPx));
            }
        }

        Assert.Equal(expected, spread.Mtf50()!.Value, 0.02 * expected);
    }

    [Fact]
    public void Too_few_pixels_give_no_figure()
    {
        EdgeSpread spread = new();
        for (int i = -10; i <= 10; i++) spread.Add(i, i > 0 ? 1 : 0);

        Assert.Null(spread.Mtf50());
    }

    [Fact]
    public void An_even_surface_has_no_edge()
    {
        EdgeSpread spread = new();
        for (double d = -10; d <= 10; d += 0.1) spread.Add(d, 0.5);

        Assert.Null(spread.Mtf50());
    }

    /// <summary>Φ by its integral, Simpson's rule.</summary>
    private static double NormalShare(double z)
    {
        if (z < -8) return 0;
        const int steps = 400;
        double from = -8, h = (Math.Min(z, 8) - from) / steps, sum = 0;
        for (int i = 0; i <= steps; i++) sum += (i is 0 or steps ? 1 : i % 2 == 1 ? 4 : 2) * Math.Exp(-Math.Pow(from + i * h, 2) / 2);
        return sum * h / 3 / Math.Sqrt(2 * Math.PI);
    }
}
