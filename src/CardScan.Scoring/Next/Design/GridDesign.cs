using CardScan.Model;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Next.Design;

/// <summary>
/// Chooses the powers and speeds of the next card: the grid that is worth most (<see cref="DesignWorth"/>), with the
/// setting in question on it.
/// </summary>
/// <remarks>
/// One value of an axis at a time is exchanged for the best other one until none improves (R. K. Meyer, C. J. Nachtsheim,
/// Technometrics 37 (1995) 60–69; from memory). Each value stands for a whole row or column, so that the card stays a grid.
/// </remarks>
internal sealed class GridDesign
{
    private const int MostSweeps = 10;

    /// <summary>A gain in worth below which an exchange is rounding.</summary>
    private const double LeastGain = 1e-6;

    private readonly double[] _powers;
    private readonly double[] _speeds;
    private readonly DoseLimits _limits;
    private readonly DesignWorth _worth;
    private readonly int _powerInQuestion;
    private readonly int _speedInQuestion;

    private GridDesign(CardKnowledge known, CellSettings about, DoseLimits limits)
    {
        (_powers, _speeds, _limits) = (Candidates.Powers(about, limits), Candidates.Speeds(about, limits), limits);
        _worth = new(known, _powers, _speeds, about.SpeedMmPerMin);
        (_powerInQuestion, _speedInQuestion) = (Array.IndexOf(_powers, about.PowerPercent), Array.IndexOf(_speeds, about.SpeedMmPerMin));
    }

    /// <summary>The best grid: powers and speeds, increasing.</summary>
    /// <param name="known">What is known.</param>
    /// <param name="about">The setting in question.</param>
    /// <param name="limits">What may be burned.</param>
    /// <param name="options">How many values.</param>
    public static (double[] Powers, double[] Speeds) Best(CardKnowledge known, CellSettings about, DoseLimits limits,
        NextCardOptions options)
    {
        GridDesign design = new(known, about, limits);
        // Exchanges can end in a local best, so they start from a narrow and from a wide grid.
        (int[] powers, int[] speeds) = new[] { 1.15, 1.6, 3 }
            .Select(reach => design.Improved(design.Start(reach, options)))
            .MaxBy(grid => design.WorthOf(grid));
        return ([.. powers.Select(i => design._powers[i]).Order()], [.. speeds.Select(i => design._speeds[i]).Order()]);
    }

    /// <summary>
    /// The setting in question comes first on each axis and is never exchanged; the others lie about it as far as the dose allows.
    /// </summary>
    private (int[] Powers, int[] Speeds) Start(double reach, NextCardOptions options)
    {
        int[] powers = Spread(_powers, _powerInQuestion, reach, options.Columns, _ => true);
        double most = powers.Max(i => _powers[i]);
        if (!_limits.Allow(most, _speeds[_speedInQuestion]))
        {
            powers = Spread(_powers, _powerInQuestion, reach, options.Columns, i => _limits.Allow(_powers[i], _speeds[_speedInQuestion]));
            most = powers.Max(i => _powers[i]);
        }

        return (powers, Spread(_speeds, _speedInQuestion, reach, options.Rows, i => _limits.Allow(most, _speeds[i])));
    }

    private static int[] Spread(double[] values, int inQuestion, double reach, int count, Func<int, bool> isAllowed)
    {
        List<int> free = [.. Enumerable.Range(0, values.Length).Where(i => i != inQuestion && isAllowed(i))];
        List<int> taken = [inQuestion];
        for (int k = 1; k < count && free.Count > 0; k++)
        {
            double wanted = values[inQuestion] * Math.Pow(reach, 2 * (k - 1) / Math.Max(1.0, count - 2) - 1);
            // Exchanges keep apart what lies apart, so the start must.
            int nearest = free.Where(i => taken.All(other => Levels.AreApart(values[i], values[other]))).DefaultIfEmpty(-1).MinBy(Distance);
            if (nearest < 0) nearest = free.MinBy(Distance);
            taken.Add(nearest);
            free.Remove(nearest);

            double Distance(int i) => i < 0 ? double.PositiveInfinity : Math.Abs(Math.Log(values[i] / wanted));
        }

        return [.. taken];
    }

    private (int[] Powers, int[] Speeds) Improved((int[] Powers, int[] Speeds) grid)
    {
        (int[] powers, int[] speeds) = grid;
        double best = WorthOf(grid);
        for (int sweep = 0; sweep < MostSweeps; sweep++)
        {
            double before = best;
            best = Exchange(powers, speeds, isPower: true, best);
            best = Exchange(speeds, powers, isPower: false, best);
            if (best < before + LeastGain) break;
        }

        return (powers, speeds);
    }

    /// <summary>Exchanges each value of an axis in turn, where that is worth more.</summary>
    private double Exchange(int[] axis, int[] other, bool isPower, double best)
    {
        int candidates = (isPower ? _powers : _speeds).Length, width = _worth.Laws * _worth.Length;
        double[] rest = new double[width], tried = new double[width];
        // What each candidate row or column would tell does not change while the other axis stays.
        double[][] lines = new double[candidates][];
        for (int at = 1; at < axis.Length; at++)
        {
            Array.Clear(rest);
            for (int k = 0; k < axis.Length; k++)
            {
                if (k != at) Add(rest, LineOf(axis[k]));
            }

            int present = axis[at], found = present;
            for (int candidate = 0; candidate < candidates; candidate++)
            {
                if (axis.Contains(candidate) || !IsSafe(axis, at, candidate, other, isPower)
                    || !IsTestable(axis, at, candidate, isPower ? _powers : _speeds))
                    continue;
                rest.CopyTo(tried, 0);
                Add(tried, LineOf(candidate));
                double worth = _worth.Of(tried);
                if (!(worth > best + LeastGain)) continue;
                (best, found) = (worth, candidate);
            }

            axis[at] = found;
        }

        return best;

        double[] LineOf(int candidate)
        {
            if (lines[candidate] is { } known) return known;
            double[] line = new double[width];
            for (int law = 0; law < _worth.Laws; law++)
            {
                Span<double> into = line.AsSpan(law * _worth.Length, _worth.Length);
                foreach (int crossing in other)
                    Information.AddTo(into, isPower ? _worth.CellOf(law, candidate, crossing) : _worth.CellOf(law, crossing, candidate));
            }

            return lines[candidate] = line;
        }

        static void Add(double[] sum, double[] more) => Information.AddTo(sum, more);
    }

    /// <summary>The slowest cell at the highest power gets the most.</summary>
    private bool IsSafe(int[] axis, int at, int candidate, int[] other, bool isPower)
    {
        int most = candidate;
        for (int k = 0; k < axis.Length; k++)
        {
            if (k != at) most = isPower ? Math.Max(most, axis[k]) : Math.Min(most, axis[k]);
        }

        return isPower ? _limits.Allow(_powers[most], _speeds[other.Min()]) : _limits.Allow(_powers[other.Max()], _speeds[most]);
    }

    /// <summary>An exchange leaves enough values that lie apart, or no fewer than there were.</summary>
    private static bool IsTestable(int[] axis, int at, int candidate, double[] values)
    {
        double[] now = [.. axis.Select(i => values[i])];
        int needed = Math.Min(Levels.Fewest, Levels.Of(now));
        now[at] = values[candidate];
        return Levels.Of(now) >= needed;
    }

    private double WorthOf((int[] Powers, int[] Speeds) grid)
    {
        double[] told = new double[_worth.Laws * _worth.Length];
        for (int law = 0; law < _worth.Laws; law++)
        {
            foreach (int power in grid.Powers)
            {
                foreach (int speed in grid.Speeds)
                    Information.AddTo(told.AsSpan(law * _worth.Length, _worth.Length), _worth.CellOf(law, power, speed));
            }
        }

        return _worth.Of(told);
    }
}
