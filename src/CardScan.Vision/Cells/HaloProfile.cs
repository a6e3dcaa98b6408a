using CardScan.Model;

namespace CardScan.Vision;

/// <summary>How far darkening spreads past a cell's edge, side by side.</summary>
internal sealed class HaloProfile
{
    private const double StepMm = 0.1;
    private const double ReachMm = 3;
    private const int SamplesAlongSide = 16;
    private const double MiddleShare = 0.7;

    /// <summary>
    /// Darkening counts while it takes at least this share of the bare luminance: about what an eye notices beside bare
    /// material.
    /// </summary>
    private const double LeastLoss = 0.05;

    /// <summary>Scorch has faded over the last part of the way, one in so many; soot, which reaches farther, has not.</summary>
    private const int FadedPart = 4;

    private readonly double[][] _sides;

    private HaloProfile(double[][] sides) => _sides = sides;

    /// <summary>What each side loses of the bare luminance over the way that is looked at, 0 to 1: top, right, bottom, left.</summary>
    public IReadOnlyList<double> Losses => [.. _sides.Select(profile => 1 - profile.Average())];

    /// <summary>Measures the four sides; null where one is out of the frame, or too little bare material lies around the cell.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="light">Its light field.</param>
    /// <param name="logExcess">How far the bare material around this cell stands above the field.</param>
    /// <param name="cell">The cell.</param>
    /// <param name="gapMm">Bare material around the cell, mm.</param>
    public static HaloProfile? Of(CardSurface surface, LightField light, double logExcess, Cell cell, double gapMm)
    {
        // Beyond the middle of the gap darkening may be the neighbour's.
        int steps = (int)(Math.Min(ReachMm, gapMm / 2) / StepMm);
        if (steps < 3) return null;
        List<double[]> sides = [];
        (int, int)[] ways = [(0, -1), (1, 0), (0, 1), (-1, 0)];
        foreach (double[]? profile in ways.Select(outward => Profile(surface, light, logExcess, cell, outward, steps)))
        {
            if (profile is null) return null;
            sides.Add(profile);
        }

        return new([.. sides]);
    }

    /// <summary>Distance at which the mean profile of the four sides comes back to the bare level, mm, with its jackknife error.</summary>
    public Measured Reach() => Reach(_sides);

    /// <summary>
    /// The same where soot lies to one side of the cells: each side is held against its own level at the end of the way, and
    /// at every distance the darkest of the four is left out. What goes round the cell stays. The error is what leaving out
    /// two of them would change.
    /// </summary>
    public Measured ReachWithoutSoot()
    {
        double[][] sides = [.. _sides.Select(AgainstItsEnd)];
        double reach = ReachOfLightest(sides, 3);
        return Measured.Of(reach, Math.Max(Math.Abs(reach - ReachOfLightest(sides, 2)), StepMm / Math.Sqrt(12)));
    }

    private static double[] AgainstItsEnd(double[] profile)
    {
        double end = Math.Min(1, profile[^Math.Max(2, profile.Length / FadedPart)..].Average());
        return [.. profile.Select(luminance => luminance / end)];
    }

    private static double ReachOfLightest(double[][] sides, int count) =>
        ReachOfMean([[.. Enumerable.Range(0, sides[0].Length)
            .Select(d => sides.Select(profile => profile[d]).OrderDescending().Take(count).Average())]]);

    private static Measured Reach(double[][] sides)
    {
        double[] withoutOne = [.. Enumerable.Range(0, sides.Length).Select(left => ReachOfMean(sides.Where((_, i) => i != left)))];
        double mean = withoutOne.Average();
        // Jackknife (Tukey 1958): (n − 1)/n times the sum of squares about the mean.
        double error = Math.Sqrt((sides.Length - 1.0) / sides.Length * withoutOne.Sum(value => (value - mean) * (value - mean)));
        return Measured.Of(ReachOfMean(sides), Math.Max(error, StepMm / Math.Sqrt(12)));
    }

    /// <summary>Luminance against bare along the way outward from one side.</summary>
    private static double[]? Profile(CardSurface surface, LightField light, double logExcess, Cell cell, (int X, int Y) outward, int steps)
    {
        PlanePoint centre = new(cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);
        PlanePoint out01 = new(outward.X, outward.Y), along = new(-outward.Y, outward.X);
        double half = (outward.X != 0 ? cell.WidthMm : cell.HeightMm) / 2;
        double length = MiddleShare * (outward.X != 0 ? cell.HeightMm : cell.WidthMm);
        double[] profile = new double[steps];
        for (int d = 0; d < profile.Length; d++)
        {
            PlanePoint middle = centre + out01 * (half + (d + 0.5) * StepMm);
            for (int i = 0; i < SamplesAlongSide; i++)
            {
                if (surface.LuminanceAt(middle + along * (length * ((i + 0.5) / SamplesAlongSide - 0.5))) is not { } luminance) return null;
                profile[d] += luminance;
            }

            // Over one side light changes evenly, so its level in the middle is that of the mean.
            profile[d] /= SamplesAlongSide * Math.Exp(light.LogLuminanceAt(middle) + logExcess);
        }

        return profile;
    }

    private static double ReachOfMean(IEnumerable<double[]> sides)
    {
        double[][] profiles = [.. sides];
        for (int d = 0; d < profiles[0].Length; d++)
        {
            if (profiles.Average(profile => profile[d]) > 1 - LeastLoss) return d * StepMm;
        }

        return profiles[0].Length * StepMm;
    }
}
