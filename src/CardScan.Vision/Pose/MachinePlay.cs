using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>Play of the machine's axes, told by the edges of filled cells: no bend of the card, and no lens, does the same.</summary>
/// <remarks>
/// Along x, lines burned to the right and to the left stand apart: the left and the right edge of a fill are combs whose teeth
/// are two line intervals apart, and where the one has a tooth the other has none. Along y, a cell that the head comes to from
/// below begins late: it is less high, and its bottom stands where it should. Scale and squareness show in neither, since
/// the same machine burned the markers. See docs/method/vision.md, "Play of the machine".
/// </remarks>
internal static class MachinePlay
{
    /// <summary>Fewer cells than this tell no pattern.</summary>
    private const int FewestCells = 10;

    /// <summary>Cells of each way of approach, at least.</summary>
    private const int FewestOfAKind = 4;

    /// <summary>Play is told from so many of its standard errors on: docs/method/vision.md has the count of false alarms.</summary>
    private const double CertainErrors = 5;

    /// <summary>Less than this is no fault of a hobby machine (common practice, no source), mm.</summary>
    private const double LeastMm = 0.05;

    /// <summary>Teeth of which lens and sensor leave less than this are not looked for.</summary>
    private const double LeastLeftOfTeeth = 0.1;

    /// <summary>A step of luminance smaller than this share of the lighter side is no edge.</summary>
    private const double LeastContrast = 0.25;

    /// <summary>Teeth are looked for this far to both sides of an edge, mm, in steps of …</summary>
    private const double ReachMm = 0.6;

    private const double StepMm = 0.04;

    private const int SamplesPerTooth = 8;

    /// <summary>MTF50's uncertainty, relative (docs/method/photo-check.md, "Sharpness").</summary>
    private const double SharpnessError = 0.06;

    /// <summary>What a photo tells of the machine's play; empty where it tells none.</summary>
    /// <param name="surface">The card, its bow corrected.</param>
    /// <param name="plan">Its plan.</param>
    /// <param name="quality">The photo's sharpness.</param>
    public static ValueList<Warning> Of(CardSurface surface, Plan plan, PhotoQuality quality)
    {
        if (plan.Process != Process.Engrave || plan.Kind == CardKind.FocusLadder) return [];
        return [.. Told("x", AlongX(surface, plan, quality.Mtf50AcrossYPerMm)), .. Told("y", AlongY(surface, plan))];

        static IEnumerable<Warning> Told(string axis, (double Mm, double ErrorMm)? play) =>
            play is { } found && found.Mm >= LeastMm
                ? [new(Codes.MachinePlay, ("axis", axis), ("play", Mm(found.Mm)), ("error", Mm(2 * found.ErrorMm)))]
                : [];
    }

    /// <summary>How much less high cells are that were reached from below, mm, and its error; null where it is not certain.</summary>
    /// <remarks>
    /// Height less width, so that what widens a mark all round drops out, as do the pose's shifts. A plane over the card takes up
    /// what is left of its bend.
    /// </remarks>
    internal static (double Mm, double ErrorMm)? AlongY(CardSurface surface, Plan plan)
    {
        if (plan.Burning is null || plan.Cells.Any(cell => plan.SettingsOf(cell).Passes > 1)) return null;
        ValueList<int> order = plan.Burning.Order;
        List<double[]> rows = [];
        List<double> misses = [];
        // What was burned before the first cell is a label.
        for (int i = 1; i < order.Count; i++)
        {
            (Cell before, Cell cell) = (plan.Cells[order[i - 1]], plan.Cells[order[i]]);
            double gapMm = Gap.Around(cell, plan);
            if (CellPlace.Outward(surface, cell, CellSide.Top, gapMm) is not { } top
                || CellPlace.Outward(surface, cell, CellSide.Bottom, gapMm) is not { } bottom
                || CellPlace.Outward(surface, cell, CellSide.Left, gapMm) is not { } left
                || CellPlace.Outward(surface, cell, CellSide.Right, gapMm) is not { } right)
                continue;
            bool isFromBelow = before.YMm + before.HeightMm > cell.YMm;
            rows.Add([isFromBelow ? -1 : 0, 1, cell.XMm / plan.Card.WidthMm, cell.YMm / plan.Card.HeightMm]);
            misses.Add(top + bottom - left - right);
        }

        int fromBelow = rows.Count(row => row[0] < 0);
        if (rows.Count < FewestCells || Math.Min(fromBelow, rows.Count - fromBelow) < FewestOfAKind) return null;
        double[] weights = [.. Enumerable.Repeat(1.0, rows.Count)];
        double[] fit = LeastSquares.SolveWeighted(rows, misses.ToArray(), weights);
        double squares = rows.Select((row, i) => misses[i] - row.Zip(fit, (factor, value) => factor * value).Sum())
            .Sum(miss => miss * miss);
        double error = Math.Sqrt(squares / (rows.Count - fit.Length) * LeastSquares.CovarianceOf(rows, weights, [0])[0, 0]);
        return fit[0] > CertainErrors * error ? (fit[0], error) : null;
    }

    /// <summary>How far lines to the right and to the left stand apart at least, mm, and its error; null where it is not certain.</summary>
    /// <remarks>
    /// The edge of a fill as a function of y is a square wave of ± half the play; its first harmonic is 2/π of the play, times
    /// what the lens leaves of it (a Gaussian of the photo's MTF50). The mean product of left and right edges has no
    /// noise in it: it is independent on the two, and grain that runs through a cell has the other sign.
    /// </remarks>
    internal static (double Mm, double ErrorMm)? AlongX(CardSurface surface, Plan plan, double? mtf50PerMm)
    {
        if (mtf50PerMm is not { } sharpness) return null;
        List<double> squares = [];
        double lens = 0;
        foreach (Cell cell in plan.Cells)
        {
            if (plan.SettingsOf(cell).LineIntervalMm is not { } asked) continue;
            int lines = Math.Max(1, (int)Math.Round(cell.HeightMm / asked));
            double toothMm = 2 * cell.HeightMm / lines;
            double left = LeftBy(sharpness, 1 / toothMm);
            // A tooth of two pixels is at the sensor's limit.
            if (left < LeastLeftOfTeeth || surface.PxPerMmAt(cell) * toothMm < 2.5) continue;
            if (Teeth(surface, cell, CellSide.Left, toothMm) is not { } one
                || Teeth(surface, cell, CellSide.Right, toothMm) is not { } other)
                continue;
            squares.Add(-(one.Real * other.Real + one.Imaginary * other.Imaginary) * Math.Pow(Math.PI / 2 / left, 2));
            lens += Math.Pow(2 * Math.Log(2) / Math.Pow(sharpness * toothMm, 2) * SharpnessError, 2);
        }

        if (squares.Count < FewestCells) return null;
        double mean = squares.Average(), error = Math.Sqrt(Robust.Variance(squares) / squares.Count);
        if (mean < CertainErrors * error) return null;
        double play = Math.Sqrt(mean);
        return (play, play * Math.Sqrt(Math.Pow(error / mean / 2, 2) + lens / squares.Count));
    }

    /// <summary>What a Gaussian lens leaves of a frequency.</summary>
    private static double LeftBy(double mtf50PerMm, double perMm) => Math.Pow(0.5, Math.Pow(perMm / mtf50PerMm, 2));

    /// <summary>First harmonic of an edge's place along y, mm outward; null where the edge is not clear.</summary>
    private static System.Numerics.Complex? Teeth(CardSurface surface, Cell cell, CellSide side, double toothMm)
    {
        (PlanePoint start, PlanePoint along, PlanePoint outward, double length) = SideScan.Frame(cell, side);
        int teeth = (int)(0.7 * length / toothMm), samples = teeth * SamplesPerTooth, half = (int)Math.Round(ReachMm / StepMm);
        if (teeth < 4) return null;
        double from = (length - teeth * toothMm) / 2;
        double[] levels = new double[2 * half + 1];
        System.Numerics.Complex sum = 0;
        for (int i = 0; i < samples; i++)
        {
            double at = from + (i + 0.5) * toothMm / SamplesPerTooth, row = 0;
            for (int step = -half; step <= half; step++)
            {
                if (surface.LuminanceAt(start + along * at + outward * (step * StepMm)) is not { } luminance) return null;
                levels[step + half] += luminance / samples;
                row += luminance * StepMm;
            }

            sum += row * System.Numerics.Complex.FromPolarCoordinates(2.0 / samples, -2 * Math.PI * at / toothMm);
        }

        double rise = levels[^1] - levels[0];
        // Bare material counts outward, so light where the mark should be means that its edge stands further in.
        return Math.Abs(rise) < LeastContrast * Math.Max(levels[0], levels[^1]) ? null : -sum / rise;
    }
}
