using CardScan.Language;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// Whether the grid may lie a whole column or row elsewhere, or upside down: cells alone look the same from place to place.
/// </summary>
/// <remarks>
/// Two things tell places apart. A place is wrong where it leaves marks outside the grid. And a stronger setting marks no
/// less: a place is wrong that has the strongest line of the plan bare beside a marked one. Where neither decides, nobody
/// should guess.
/// </remarks>
internal sealed class GridDoubt(CellContrast contrast, Plan plan)
{
    /// <summary>Whole lines that the grid may seem shifted by.</summary>
    private const int MostLines = 2;

    /// <summary>
    /// Marks that a place may leave out and still be as good as another: one may be a stain; but it may be a whole line
    /// where lines have one cell.
    /// </summary>
    private readonly int _strayMarks = plan.Columns.Values.Count > 1 && plan.Rows.Values.Count > 1 ? 1 : 0;

    /// <summary>The strongest line of a plan that shows less than this share of its neighbour's contrast is bare.</summary>
    private const double BareShare = 0.4;

    /// <summary>Fewest cells that must stand out.</summary>
    private const int FewestMarks = 3;

    /// <summary>
    /// Of pairs of cells that differ in strength and in mark, at least this share must have the stronger mark where the
    /// setting is stronger.
    /// </summary>
    private const double LeastInOrder = 0.5;

    /// <summary>The one place that explains the marks; a refusal where there is none or more than one.</summary>
    public Outcome<GridPlace> Choose(GridPlace found)
    {
        Trial[] trials = [.. Shifts().Select(shift => Try(found.Shifted(shift)))];
        int most = trials.Max(trial => trial.Marks);
        if (most < FewestMarks) return NotFound;
        Trial[] explaining = [.. trials.Where(trial => trial.Marks >= FewestMarks && trial.Marks >= most - _strayMarks)];
        Trial[] likely = [.. explaining.Where(trial => !IsStrongestBare(trial.Contrasts))];
        if (likely.Length == 0) return UpsideDown;
        if (likely.Length > 1) return Refusal.OfPhoto(Codes.GridAmbiguous, ("places", likely.Length));
        return InOrder(likely[0]) is { } share && share < LeastInOrder ? UpsideDown : likely[0].Place;
    }

    /// <summary>True where the plan's settings say of some cells that they must be stronger than others.</summary>
    public static bool HasOrder(Plan plan) =>
        new[] { plan.Columns, plan.Rows }.Any(axis => axis.Values.Count > 1 && Strength(axis.Setting) != 0);

    /// <summary>No cells, or none whose edges can be followed.</summary>
    public static Refusal NotFound => Refusal.OfPhoto(Codes.GridNotFound);

    private static Refusal UpsideDown => Refusal.OfPhoto(Codes.GridUpsideDown);

    private Trial Try(GridPlace place)
    {
        double[] contrasts = contrast.Of(place);
        double least = contrast.LeastMark(place);
        return new(place, contrasts, least, contrasts.Count(value => Math.Abs(value) > least));
    }

    private IEnumerable<PlanePoint> Shifts()
    {
        double across = Pitch(plan.Cells.Select(cell => cell.XMm)), down = Pitch(plan.Cells.Select(cell => cell.YMm));
        for (int j = -MostLines; j <= MostLines; j++)
        {
            for (int i = -MostLines; i <= MostLines; i++)
            {
                if ((i == 0 || across > 0) && (j == 0 || down > 0)) yield return new(i * across, j * down);
            }
        }
    }

    /// <summary>Distance of neighbouring lines, mm; 0 where there is one line.</summary>
    private static double Pitch(IEnumerable<double> starts)
    {
        double[] lines = [.. starts.Distinct().Order()];
        return lines.Length < 2 ? 0 : Robust.Median(lines.Skip(1).Zip(lines, (next, line) => next - line).Where(distance => distance > 1));
    }

    private bool IsStrongestBare(double[] contrasts) =>
        IsStrongestBare(contrasts, plan.Columns, cell => cell.Column) || IsStrongestBare(contrasts, plan.Rows, cell => cell.Row);

    private bool IsStrongestBare(double[] contrasts, Axis axis, Func<Cell, int> lineOf)
    {
        int sign = Strength(axis.Setting), last = axis.Values.Count - 1;
        if (sign == 0 || last == 0) return false;
        (int strongest, int neighbour) = sign * axis.Values[0] > sign * axis.Values[last] ? (0, 1) : (last, last - 1);
        return Level(strongest) < BareShare * Level(neighbour);

        double Level(int line) =>
            Robust.Median(plan.Cells.Zip(contrasts).Where(pair => lineOf(pair.First) == line).Select(pair => Math.Abs(pair.Second)));
    }

    /// <summary>
    /// Share of the pairs of cells, one burned stronger in at least one setting and weaker in none, whose marks differ the
    /// same way; null without such pairs.
    /// </summary>
    private double? InOrder(Trial trial)
    {
        int ordered = 0, pairs = 0;
        for (int a = 0; a < plan.Cells.Count; a++)
        {
            for (int b = 0; b < plan.Cells.Count; b++)
            {
                double more = Math.Abs(trial.Contrasts[a]) - Math.Abs(trial.Contrasts[b]);
                if (!IsStronger(plan.Cells[a], plan.Cells[b]) || !(Math.Abs(more) > trial.LeastMark / 2)) continue;
                pairs++;
                if (more > 0) ordered++;
            }
        }

        return pairs == 0 ? null : (double)ordered / pairs;
    }

    private bool IsStronger(Cell cell, Cell than)
    {
        (int columns, int rows) = (More(plan.Columns, cell.Column, than.Column), More(plan.Rows, cell.Row, than.Row));
        return columns >= 0 && rows >= 0 && columns + rows > 0;
    }

    /// <summary>1 where a line is burned stronger than another, 0 where it is the same; −1 where it is weaker or nobody can tell.</summary>
    private static int More(Axis axis, int line, int than) =>
        line == than ? 0
        : Strength(axis.Setting) * axis.Values[line].CompareTo(axis.Values[than]) > 0 ? 1
        : -1;

    private static int Strength(Setting setting) => setting switch
    {
        Setting.PowerPercent or Setting.Passes => 1,
        Setting.SpeedMmPerMin or Setting.LineIntervalMm => -1,
        _ => 0,
    };

    private sealed record Trial(GridPlace Place, double[] Contrasts, double LeastMark, int Marks);
}
