using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// Lines drawn around the cells: beside an edge, a dark line between lighter ones, on nearly every side, or labels on one
/// side of every cell.
/// </summary>
/// <remarks>
/// Beside a real mark it gets lighter with the distance; beside a cut, char lies between lamp and bare material, but not as
/// deep on one side in ten.
/// </remarks>
internal static class DrawnLines
{
    /// <summary>Distances from the edge that are looked at, mm: outlines and side marks lie within 1, labels reach farther.</summary>
    private const double NearestMm = 0.05, FarthestMm = 1.2, StepMm = 0.04;

    /// <summary>Points along a side, over its middle four fifths.</summary>
    private const int Points = 24;

    /// <summary>Depth on the median side: annotated engravings had 0.3 or more at every size, photos 0.08 at most.</summary>
    private const double UsualDepth = 0.2;

    /// <summary>Depth that one side in ten has: labelled cells had 0.53 or more, photos 0.36 at most.</summary>
    private const double LabelDepth = 0.45;

    /// <summary>True where there are such lines.</summary>
    /// <param name="surface">The card as the picture shows it.</param>
    /// <param name="plan">Its plan.</param>
    public static bool AreAround(CardSurface surface, Plan plan)
    {
        double[] depths = [.. plan.Cells.SelectMany(cell => Enumerable.Range(0, 4).Select(side => DepthBeside(surface, cell, side)))
            .OfType<double>().Order()];
        // Beside cuts a lamp's light comes and goes with tabs, bridges and slanted walls: there a few deep lines prove nothing.
        bool mayBeLight = plan.Process == Process.Cut;
        return depths.Length > 0 && (depths[depths.Length / 2] > UsualDepth
            || (!mayBeLight && depths[depths.Length * 9 / 10] > LabelDepth));
    }

    /// <summary>
    /// How much darker a line is than the lighter ones on both of its sides, as a share of the lightest; null where the
    /// picture ends.
    /// </summary>
    private static double? DepthBeside(CardSurface surface, Cell cell, int side)
    {
        double[] profile = [.. Steps().Select(mm => Mean(surface, cell, side, mm)).OfType<double>()];
        if (profile.Length < 3) return null;
        double lightest = Math.Max(profile.Max(), 1e-3), before = profile[0], deepest = 0;
        for (int i = 1; i < profile.Length - 1; i++)
        {
            deepest = Math.Max(deepest, Math.Min(before, profile.AsSpan(i + 1).Largest()) - profile[i]);
            before = Math.Max(before, profile[i]);
        }

        return deepest / lightest;
    }

    private static double? Mean(CardSurface surface, Cell cell, int side, double mm)
    {
        double sum = 0;
        for (int i = 0; i < Points; i++)
        {
            double along = 0.1 + 0.8 * (i + 0.5) / Points;
            if (surface.LuminanceAt(Beside(cell, side, along, mm)) is not { } luminance) return null;
            sum += luminance;
        }

        return sum / Points;
    }

    private static PlanePoint Beside(Cell cell, int side, double along, double mm) => side switch
    {
        0 => new(cell.XMm + along * cell.WidthMm, cell.YMm - mm),
        1 => new(cell.XMm + cell.WidthMm + mm, cell.YMm + along * cell.HeightMm),
        2 => new(cell.XMm + along * cell.WidthMm, cell.YMm + cell.HeightMm + mm),
        _ => new(cell.XMm - mm, cell.YMm + along * cell.HeightMm),
    };

    private static IEnumerable<double> Steps()
    {
        for (double mm = NearestMm; mm <= FarthestMm; mm += StepMm) yield return mm;
    }

    private static double Largest(this ReadOnlySpan<double> values)
    {
        double largest = values[0];
        foreach (double value in values) largest = Math.Max(largest, value);
        return largest;
    }

    private static double Largest(this Span<double> values) => Largest((ReadOnlySpan<double>)values);
}
