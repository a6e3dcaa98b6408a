using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Calibration;

/// <summary>The grid after which the limit would be known best, by someone who knows the law: what no plan can beat.</summary>
internal static class BestGrid
{
    /// <summary>As the plans: this much past the highest dose, and this far from the speed in question.</summary>
    private const double Reserve = 1.3, SpeedReach = 4;

    private const int Starts = 3, MostSweeps = 6, PowerStep = 3;

    private const double SpeedRatio = 1.08, SpeedStep = 10;

    /// <summary>Half width after the first card and the best one, percent.</summary>
    public static double HalfWidthPercent(TrueCard first, TrueInformation information, double speed, Chance chance)
    {
        Grid grid = first.Grid;
        Matrix<double> known = TrueInformation.Before + information.Of(grid.PowersPercent, grid.SpeedsMmPerMin);
        double most = Reserve * grid.PowersPercent.Max() / grid.SpeedsMmPerMin.Min();
        double[] powers = [.. Enumerable.Range(1, 100 / PowerStep)
            .Select(i => (double)PowerStep * i).Where(power => power >= grid.PowersPercent.Min() / 2)];
        double[] speeds = [.. Enumerable.Range(0, 37)
            .Select(i => SpeedStep * Math.Round(speed / SpeedReach * Math.Pow(SpeedRatio, i) / SpeedStep))
            .Where(value => value >= 10)
            .Distinct()];
        return Enumerable.Range(0, Starts).Min(_ => Improved(
            Drawn(powers, grid.PowersPercent.Length, chance),
            Drawn([.. speeds.Where(value => powers.Max() / value <= most)], grid.SpeedsMmPerMin.Length, chance),
            powers, speeds, most, (p, v) => TrueInformation.HalfWidthPercent(known + information.Of(p, v))));
    }

    private static double Improved(double[] axis, double[] other, double[] powers, double[] speeds, double most,
        Func<double[], double[], double> width)
    {
        double best = width(axis, other);
        for (int sweep = 0; sweep < MostSweeps; sweep++)
        {
            double before = best;
            best = Exchange(axis, powers, best, () => axis.Max() / other.Min() <= most ? width(axis, other) : double.PositiveInfinity);
            best = Exchange(other, speeds, best, () => axis.Max() / other.Min() <= most ? width(axis, other) : double.PositiveInfinity);
            if (best > before * 0.999) break;
        }

        return best;
    }

    private static double Exchange(double[] axis, double[] candidates, double best, Func<double> width)
    {
        for (int at = 0; at < axis.Length; at++)
        {
            double kept = axis[at];
            foreach (double candidate in candidates.Where(candidate => !axis.Contains(candidate)).ToArray())
            {
                axis[at] = candidate;
                double found = width();
                if (found < best) (best, kept) = (found, candidate);
            }

            axis[at] = kept;
        }

        return best;
    }

    private static double[] Drawn(double[] from, int count, Chance chance) => [.. from.OrderBy(_ => chance.Uniform()).Take(count)];
}
