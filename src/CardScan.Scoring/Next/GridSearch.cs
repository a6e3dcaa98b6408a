using CardScan.Model;

namespace CardScan.Scoring.Next;

/// <summary>The evenly stepped grid of powers and speeds that tells most of a card's model, with the setting in question inside it.</summary>
/// <remarks>
/// D-optimal: maximises the determinant of the summed Fisher information of the burned card and the new one. Left free,
/// an axis would gather at two values, which tells a model most only as long as the model is right; even steps keep the
/// card readable and the model testable. docs/method/next-card.md, "Centred cards".
/// </remarks>
internal sealed class GridSearch
{
    /// <summary>How far from the setting in question an axis may reach, as a ratio.</summary>
    private const double Reach = 2;

    /// <summary>The largest step, as a part of the setting in question.</summary>
    private const double LargestStep = 0.25;

    /// <summary>Share of the cells whose outcome is open, at least: the others only repeat what is known.</summary>
    private const double LeastOpenShare = 0.5;

    /// <summary>Worth more than any information: grids that break a rule are only compared with each other.</summary>
    private const double Forbidden = 100;

    /// <summary>Steps that somebody would choose, in units of the smallest.</summary>
    private static readonly int[] Steps = [1, 2, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 250, 300];

    private readonly CardKnowledge _card;
    private readonly double[][] _powerAxes;
    private readonly double[][] _speedAxes;
    private readonly double _mostDose;

    private GridSearch(CardKnowledge card, double[][] powerAxes, double[][] speedAxes, double mostDose) =>
        (_card, _powerAxes, _speedAxes, _mostDose) = (card, powerAxes, speedAxes, mostDose);

    /// <summary>The best grid.</summary>
    /// <param name="card">What is known.</param>
    /// <param name="about">The setting in question; it is one of the grid's.</param>
    /// <param name="steps">What can be set.</param>
    /// <param name="options">How many values.</param>
    /// <param name="mostDose">Highest power, percent, over speed, mm/min: more would only burn more.</param>
    public static (double[] Powers, double[] Speeds) Best(
        CardKnowledge card, CellSettings about, SettableSteps steps, NextCardOptions options, double mostDose)
    {
        double power = about.PowerPercent, speed = about.SpeedMmPerMin;
        GridSearch search = new(
            card,
            Axes(power, steps.PowerStepPercent, Math.Max(steps.PowerStepPercent, power / Reach), Math.Min(SettableSteps.MostPowerPercent, power * Reach), options.Columns),
            Axes(speed, SettableSteps.SpeedStepMmPerMin, Math.Max(steps.SlowestMmPerMin, speed / Reach), Math.Min(steps.FastestMmPerMin, speed * Reach), options.Rows),
            mostDose);

        // Powers and speeds in turn; a narrow, a middling and a wide start, since turns can end in a local best.
        return search._powerAxes.Length == 0 || search._speedAxes.Length == 0
            ? ([power], [speed])
            : new[] { 0, 0.5, 1 }.Select(width => search.From(search.Start(width))).MaxBy(grid => search.Value(grid.Powers, grid.Speeds));
    }

    private double[] Start(double width) => _powerAxes[(int)(width * (_powerAxes.Length - 1))];

    private (double[] Powers, double[] Speeds) From(double[] powers)
    {
        double[] speeds = _speedAxes[0];
        double best = double.NegativeInfinity;
        while (true)
        {
            speeds = _speedAxes.MaxBy(axis => Value(powers, axis))!;
            powers = _powerAxes.MaxBy(axis => Value(axis, speeds))!;
            double found = Value(powers, speeds);
            if (!(found > best + 1e-9)) return (powers, speeds);
            best = found;
        }
    }

    /// <summary>Information of a grid; one that goes over the dose, or whose cells are mostly sure beforehand, loses more than any gains.</summary>
    private double Value(double[] powers, double[] speeds)
    {
        double over = Math.Max(0, Math.Log(powers[^1] / speeds[0] / _mostDose) - 1e-9);
        double idle = Math.Max(0, LeastOpenShare - (double)_card.OpenCells(powers, speeds) / (powers.Length * speeds.Length));
        double penalty = (over > 0 ? Forbidden * (1 + over) : 0) + (idle > 0 ? Forbidden * (1 + idle) : 0);
        return Information.LnDeterminant(Information.OfGrid(_card, powers, speeds, withKnown: true)) - penalty;
    }

    /// <summary>All axes of so many even steps that hold a value, with a neighbour on either side unless the machine ends there; narrow ones first.</summary>
    private static double[][] Axes(double about, double unit, double least, double most, int count)
    {
        if (count < NextCardOptions.FewestValues) return [];
        double[][] axes =
        [
            .. from step in Steps.Select(steps => steps * unit).Where(step => step == unit || step <= LargestStep * about)
               from below in Enumerable.Range(0, count)
               let first = about - below * step
               let last = first + (count - 1) * step
               where first >= least - 1e-9 && last <= most + 1e-9
               where count == NextCardOptions.FewestValues || ((below > 0 || about - step < least) && (below < count - 1 || about + step > most))
               select Enumerable.Range(0, count).Select(i => Math.Round(first + i * step, 6)).ToArray(),
        ];
        return axes.Length > 0 ? axes : Axes(about, unit, least, most, count - 1);
    }
}
