using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// Finds roughly where the grid lies in the window: the place at which its cells stand out most from what is around them.
/// </summary>
/// <remarks>
/// Good to about a millimetre; <see cref="GridEdges"/> makes it exact, <see cref="GridDoubt"/> judges whether another place
/// is as good.
/// </remarks>
internal sealed class GridFinder
{
    /// <summary>A piece laid upright is turned by no more than this, radians (6°).</summary>
    private const double MostTurn = 0.105;

    /// <summary>The sheet's and the piece's millimetres differ by no more than this: printers that fit to the page, thick pieces.</summary>
    private const double MostStretch = 0.06;

    /// <summary>Turn and scale are tried in steps that move the grid's corners by this much, mm.</summary>
    private const double CornerStepMm = 0.7;

    /// <summary>Places are tried this far apart, in points of the map.</summary>
    private const int ShiftStep = (int)(1 / WindowMap.StepMm);

    /// <summary>So many cells tell as well where the grid lies as all do.</summary>
    private const int EnoughCells = 30;

    private const int InsidePerSide = 3;

    private const int AroundPerSide = 3;

    /// <summary>Contrast counts up to here, natural log: one black stain must not outweigh the grid.</summary>
    private const double MostContrast = 0.5;

    private readonly WindowMap _map;
    private readonly PlanePoint _centre;
    private readonly PlanePoint _half;
    private readonly PlanePoint[][] _inside;
    private readonly PlanePoint[][] _around;
    private readonly (double Left, double Right, double Up, double Down) _play;

    private GridFinder(WindowMap map, Plan plan)
    {
        _map = map;
        double left = plan.Cells.Min(cell => cell.XMm), right = plan.Cells.Max(cell => cell.XMm + cell.WidthMm);
        double top = plan.Cells.Min(cell => cell.YMm), bottom = plan.Cells.Max(cell => cell.YMm + cell.HeightMm);
        _centre = new((left + right) / 2, (top + bottom) / 2);
        _half = new((right - left) / 2, (bottom - top) / 2);
        Window window = plan.Frame!.Window;
        _play = (Math.Max(0, left - window.XMm), Math.Max(0, window.XMm + window.WidthMm - right),
            Math.Max(0, top - window.YMm), Math.Max(0, window.YMm + window.HeightMm - bottom));

        int every = (plan.Cells.Count + EnoughCells - 1) / EnoughCells;
        // A step that shares no factor with the number of columns spreads over all of them.
        while (every > 1 && plan.Columns.Values.Count % every == 0) every++;
        Cell[] cells = [.. plan.Cells.Where((_, i) => i % every == 0)];
        _inside = [.. cells.Select(cell => Inside(cell).ToArray())];
        _around = [.. cells.Select(cell => Around(cell, CellContrast.RingOf(cell, plan)).ToArray())];
    }

    /// <summary>The best place.</summary>
    public static GridPlace Find(WindowMap map, Plan plan) => new GridFinder(map, plan).Find();

    private GridPlace Find()
    {
        double corner = Math.Max(_half.Length, 10);
        (double Turn, double Scale)[] trials =
        [
            .. from turn in Steps(MostTurn, CornerStepMm / corner)
               from stretch in Steps(MostStretch, CornerStepMm / corner)
               select (turn, 1 + stretch),
        ];
        (GridPlace Place, double Energy)[] bests = new (GridPlace, double)[trials.Length];
        Parallel.For(0, trials.Length, i => bests[i] = BestShift(trials[i].Turn, trials[i].Scale));
        return Climbed(bests.MaxBy(best => best.Energy).Place, corner);
    }

    private (GridPlace, double) BestShift(double turn, double scale)
    {
        GridPlace still = new(_centre, default, turn, scale);
        Lookup lookup = new(this, still);
        GridPlace best = still;
        double most = double.NegativeInfinity;
        for (double y = -Math.Floor(_play.Up); y <= _play.Down; y++)
        {
            for (double x = -Math.Floor(_play.Left); x <= _play.Right; x++)
            {
                double energy = lookup.Energy((int)y * ShiftStep, (int)x * ShiftStep);
                if (energy > most) (most, best) = (energy, still with { Offset = new(x, y) });
            }
        }

        return (best, most);
    }

    /// <summary>Uphill in ever smaller steps of shift, turn and scale.</summary>
    private GridPlace Climbed(GridPlace start, double corner)
    {
        GridPlace best = start;
        double most = EnergyAt(start);
        for (double step = 0.5; step > 0.1; step /= 2)
        {
            for (int round = 0; round < 4; round++)
            {
                double before = most;
                foreach (GridPlace trial in (ReadOnlySpan<GridPlace>)
                [
                    best with { Offset = best.Offset + new PlanePoint(step, 0) },
                    best with { Offset = best.Offset - new PlanePoint(step, 0) },
                    best with { Offset = best.Offset + new PlanePoint(0, step) },
                    best with { Offset = best.Offset - new PlanePoint(0, step) },
                    best with { TurnRad = best.TurnRad + step / corner }, best with { TurnRad = best.TurnRad - step / corner },
                    best with { Scale = best.Scale + step / corner }, best with { Scale = best.Scale - step / corner },
                ])
                {
                    double energy = EnergyAt(trial);
                    if (energy > most) (most, best) = (energy, trial);
                }

                if (most <= before) break;
            }
        }

        return best;
    }

    private double EnergyAt(GridPlace place) => new Lookup(this, place).Energy(0, 0);

    private static IEnumerable<double> Steps(double most, double step)
    {
        int count = (int)Math.Ceiling(most / step);
        return Enumerable.Range(-count, 2 * count + 1).Select(i => i * most / count);
    }

    private static IEnumerable<PlanePoint> Inside(Cell cell) =>
        from j in Enumerable.Range(0, InsidePerSide)
        from i in Enumerable.Range(0, InsidePerSide)
        select new PlanePoint(cell.XMm + cell.WidthMm * (0.1 + 0.8 * i / (InsidePerSide - 1)),
            cell.YMm + cell.HeightMm * (0.1 + 0.8 * j / (InsidePerSide - 1)));

    private static IEnumerable<PlanePoint> Around(Cell cell, double off) => Enum.GetValues<CellSide>().SelectMany(side =>
    {
        (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = SideScan.Frame(cell, side);
        return Enumerable.Range(0, AroundPerSide)
            .Select(i => start + along * (length * (0.1 + 0.8 * i / (AroundPerSide - 1))) + outward * off);
    });

    /// <summary>The cells' points on the map for one turn and scale; a shift only adds to them.</summary>
    private sealed class Lookup(GridFinder finder, GridPlace place)
    {
        private readonly (int Row, int Column)[][] _inside =
            [.. finder._inside.Select(cell => cell.Select(point => finder._map.Nearest(place.ToSheet(point))).ToArray())];
        private readonly (int Row, int Column)[][] _around =
            [.. finder._around.Select(cell => cell.Select(point => finder._map.Nearest(place.ToSheet(point))).ToArray())];

        /// <summary>Sum of the cells' squared contrasts, those that the window hides left out.</summary>
        public double Energy(int rows, int columns)
        {
            double sum = 0;
            for (int i = 0; i < _inside.Length; i++)
            {
                double contrast = Mean(_inside[i], rows, columns) - Mean(_around[i], rows, columns);
                if (double.IsFinite(contrast)) sum += Math.Pow(Math.Min(Math.Abs(contrast), MostContrast), 2);
            }

            return sum;
        }

        private double Mean((int Row, int Column)[] points, int rows, int columns)
        {
            double sum = 0;
            int seen = 0;
            foreach ((int row, int column) in points)
            {
                float value = finder._map.At(row + rows, column + columns);
                if (float.IsNaN(value)) continue;
                sum += value;
                seen++;
            }

            return 2 * seen > points.Length ? sum / seen : double.NaN;
        }
    }
}
