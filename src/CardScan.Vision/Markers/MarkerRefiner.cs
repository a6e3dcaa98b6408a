using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Corners as the crossings of straight lines fitted to the marker's outer edges in linear light.</summary>
/// <remarks>
/// Every corner refinement that comes with the detector is drawn towards the marker's centre by blur. Here each edge is
/// cut by profiles across it; a profile's edge is where the area under it, between the levels of the black border and the
/// bare material, is shared evenly, which symmetric blur does not move. In sRGB codes blur would move it, so luminance is
/// linear. See docs/method, "Markers".
/// </remarks>
internal static class MarkerRefiner
{
    private const int ProfilesPerEdge = 96;
    private const int HalfSamples = 12;
    private const int SamplesPerProfile = 2 * HalfSamples + 1;

    /// <summary>Samples at each end of a profile that tell its levels.</summary>
    private const int LevelSamples = 4;

    /// <summary>The 8 × 8 modules of a marker: the border is one module wide.</summary>
    private const double ModulesPerSide = 8;

    private const int Rounds = 3;

    /// <summary>An edge fainter than this share of the brighter side is none.</summary>
    private const double LeastContrast = 0.05;

    /// <summary>Refines the corners of all markers; a marker whose edges cannot be followed is left out.</summary>
    public static ValueList<RefinedMarker> Refine(Picture picture, MarkerSet markers)
    {
        List<RefinedMarker> refined = [];
        foreach (SeenMarker marker in markers.Markers)
        {
            if (Refine(picture, marker, markers.IsInverted ? -1 : 1) is { } result) refined.Add(result);
        }

        return refined.ToValueList();
    }

    /// <param name="picture">The photo.</param>
    /// <param name="marker">The marker, to a few pixels.</param>
    /// <param name="fall">1 where luminance falls from the bare material into the border, −1 where it rises.</param>
    private static RefinedMarker? Refine(Picture picture, SeenMarker marker, int fall)
    {
        ValueList<PlanePoint> corners = marker.Corners;
        RefinedMarker? result = null;
        double modulePx = corners[0].DistanceTo(corners[2]) / Math.Sqrt(2) / ModulesPerSide;
        double reach = 0.9 * modulePx;
        for (int round = 0; round < Rounds; round++)
        {
            EdgeLine?[] lines = new EdgeLine?[4];
            for (int side = 0; side < 4; side++)
            {
                (PlanePoint from, PlanePoint to) = (corners[side], corners[(side + 1) % 4]);
                lines[side] = FollowEdge(picture, from, to, reach, fall, isFirst: round == 0);
                // Corners from a much reduced picture may lie on the border's inner edge: the outer one is a module farther out.
                if (round > 0) continue;
                PlanePoint outward = Outward(from, to, modulePx);
                lines[side] ??= FollowEdge(picture, from + outward, to + outward, reach, fall, isFirst: true);
            }

            if (lines.Any(line => line is null)) return null;

            ValueList<PlanePoint> crossings = Enumerable.Range(0, 4).Select(i => lines[(i + 3) % 4]!.Value.Cross(lines[i]!.Value))
                .ToValueList();
            if (Enumerable.Range(0, 4).Any(i => crossings[i].DistanceTo(corners[i]) > 1.5 * modulePx)) return null;
            corners = crossings;
            result = new RefinedMarker(marker.Place, corners, lines.Average(line => line!.Value.ScatterPx),
                lines.Average(line => line!.Value.BlurPx));

            // The first round starts some pixels off and must reach far; the later ones stay close to the edge, where
            // the grain beside it has less to say.
            reach = Math.Min(Math.Max(4 * result.BlurPx + 1, 3), 0.8 * modulePx);
        }

        return result;
    }

    private static PlanePoint Outward(PlanePoint from, PlanePoint to, double px) =>
        new PlanePoint(to.Y - from.Y, from.X - to.X) * (px / from.DistanceTo(to));

    /// <summary>Fits a line to one edge; null where there is none, or only the border's inner one.</summary>
    /// <param name="picture">The photo.</param>
    /// <param name="from">Corner at the edge's start; the marker lies to the right of the way.</param>
    /// <param name="to">Corner at its end.</param>
    /// <param name="reach">Half length of the profiles, px.</param>
    /// <param name="fall">As in <see cref="Refine(Picture, SeenMarker, int)"/>.</param>
    /// <param name="isFirst">True while the edge's place is known only to a few pixels.</param>
    private static EdgeLine? FollowEdge(Picture picture, PlanePoint from, PlanePoint to, double reach, int fall, bool isFirst)
    {
        double length = from.DistanceTo(to);
        PlanePoint direction = (to - from) * (1 / length);
        PlanePoint inward = new(-direction.Y, direction.X);

        double[] positions = new double[ProfilesPerEdge];
        double[] offsets = new double[ProfilesPerEdge];
        double[] mean = new double[SamplesPerProfile];
        double[] profile = new double[SamplesPerProfile];
        for (int i = 0; i < ProfilesPerEdge; i++)
        {
            positions[i] = length * (0.06 + 0.88 * i / (ProfilesPerEdge - 1));
            PlanePoint foot = from + direction * positions[i];
            for (int s = 0; s < SamplesPerProfile; s++)
            {
                PlanePoint at = foot + inward * (reach * (s - HalfSamples) / HalfSamples);
                profile[s] = fall * picture.LuminanceAt(at.X, at.Y);
                mean[s] += profile[s] / ProfilesPerEdge;
            }

            offsets[i] = isFirst ? SteepestFall(profile, reach) : EvenShare(profile, reach);
        }

        (double Outer, double Inner) levels = Levels(mean);
        if (isFirst && IsInnerEdge(levels, (mean.Max() + mean.Min()) / 2)) return null;
        // While the edge is known to a few pixels only, the far end of the profiles may lie in bare modules behind the border.
        if (isFirst && !IsEdge(levels)) levels = (mean.Max(), mean.Min());
        return IsEdge(levels) ? EdgeLine.Fit(from, direction, inward, positions, offsets, BlurOf(mean, levels, reach)) : null;
    }

    /// <summary>Burned outside and bare inside: from the border to the bare modules behind it.</summary>
    private static bool IsInnerEdge((double Outer, double Inner) levels, double middle) =>
        levels.Outer < middle && levels.Inner > middle && IsEdge((levels.Inner, levels.Outer));

    private static bool IsEdge((double Outer, double Inner) levels) =>
        levels.Outer - levels.Inner >= LeastContrast * Math.Max(Math.Abs(levels.Outer), Math.Abs(levels.Inner));

    private static (double Outer, double Inner) Levels(ReadOnlySpan<double> profile)
    {
        double outer = 0, inner = 0;
        for (int i = 0; i < LevelSamples; i++)
        {
            outer += profile[i] / LevelSamples;
            inner += profile[^(i + 1)] / LevelSamples;
        }

        return (outer, inner);
    }

    /// <summary>
    /// Where the profile falls most over a few samples, px from its middle: coarse, but not led astray by the light
    /// modules behind the border.
    /// </summary>
    private static double SteepestFall(double[] profile, double reach)
    {
        const int width = 3;
        int best = width;
        double most = double.NegativeInfinity;
        for (int s = width; s < profile.Length - width; s++)
        {
            double fall = 0;
            for (int k = 1; k <= width; k++) fall += profile[s - k] - profile[s + k];
            if (fall > most) (most, best) = (fall, s);
        }

        return reach * (best - HalfSamples) / HalfSamples;
    }

    /// <summary>
    /// Where the area under the profile is shared evenly between its two levels, px from its middle; NaN where the
    /// profile has no edge.
    /// </summary>
    private static double EvenShare(double[] profile, double reach)
    {
        (double outer, double inner) = Levels(profile);
        if (!IsEdge((outer, inner))) return double.NaN;
        double outside = 0;
        for (int i = 0; i < profile.Length; i++)
            outside += (i == 0 || i == profile.Length - 1 ? 0.5 : 1) * (profile[i] - inner) / (outer - inner);
        double step = reach / HalfSamples;
        return outside * step - reach;
    }

    /// <summary>
    /// Standard deviation of the edge's spread, px: half the distance between 16 % and 84 % of the mean profile.
    /// </summary>
    private static double BlurOf(double[] mean, (double Outer, double Inner) levels, double reach)
    {
        double[] falling = [.. mean.Select(value => (value - levels.Inner) / (levels.Outer - levels.Inner))];
        return (Crossing(falling, 0.1587, reach) - Crossing(falling, 0.8413, reach)) / 2;
    }

    private static double Crossing(double[] falling, double level, double reach)
    {
        for (int i = 1; i < falling.Length; i++)
        {
            if (falling[i] > level) continue;
            double part = falling[i - 1] == falling[i] ? 0 : (falling[i - 1] - level) / (falling[i - 1] - falling[i]);
            return reach * (i - 1 + Math.Clamp(part, 0, 1) - HalfSamples) / HalfSamples;
        }

        return reach;
    }
}

/// <summary>A marker with exact corners.</summary>
/// <param name="Place">0 top left, 1 top right, 2 bottom right, 3 bottom left of the card.</param>
/// <param name="Corners">Corners, px, clockwise on the card from its own top left.</param>
/// <param name="ScatterPx">How far the edge points scatter about their lines, px (one standard deviation).</param>
/// <param name="BlurPx">Standard deviation of the edges' spread, px.</param>
internal sealed record RefinedMarker(int Place, ValueList<PlanePoint> Corners, double ScatterPx, double BlurPx);

/// <summary>A straight edge in the photo.</summary>
internal readonly record struct EdgeLine(PlanePoint Point, PlanePoint Direction, double ScatterPx, double BlurPx)
{
    public static EdgeLine? Fit(PlanePoint origin, PlanePoint direction, PlanePoint normal, double[] positions, double[] offsets,
        double blurPx)
    {
        (double intercept, double slope) = RobustStart(positions, offsets);
        double scatter = 0;
        double[] weights = Weights();
        for (int round = 0; round < 6; round++)
        {
            double sw = 0, sx = 0, sy = 0, sxx = 0, sxy = 0;
            for (int i = 0; i < offsets.Length; i++)
            {
                if (weights[i] == 0) continue;
                sw += weights[i];
                sx += weights[i] * positions[i];
                sy += weights[i] * offsets[i];
                sxx += weights[i] * positions[i] * positions[i];
                sxy += weights[i] * positions[i] * offsets[i];
            }

            double determinant = sw * sxx - sx * sx;
            if (sw < offsets.Length / 4.0 || determinant <= 0) return null;
            slope = (sw * sxy - sx * sy) / determinant;
            intercept = (sy - slope * sx) / sw;

            weights = Weights();
        }

        PlanePoint tilted = direction + normal * slope;
        return new EdgeLine(origin + normal * intercept, tilted * (1 / tilted.Length), scatter, blurPx);

        // Tukey's biweight: a scratch or a spot of soot across the edge has no vote.
        double[] Weights()
        {
            double[] residuals = [.. offsets.Select((offset, i) => offset - intercept - slope * positions[i])];
            scatter = Math.Max(Robust.Deviation(residuals), 1e-3);
            return [.. residuals.Select(r => Robust.Biweight(r, Robust.UsualReach * scatter))];
        }
    }

    /// <summary>Median slope between points half an edge apart, and the median intercept: half the points may be wrong.</summary>
    private static (double Intercept, double Slope) RobustStart(double[] positions, double[] offsets)
    {
        int half = positions.Length / 2;
        double slope = Robust.Median(Enumerable.Range(0, half)
            .Select(i => (offsets[i + half] - offsets[i]) / (positions[i + half] - positions[i])));
        return (Robust.Median(offsets.Select((offset, i) => offset - slope * positions[i])), slope);
    }

    /// <summary>Where two edges cross.</summary>
    public PlanePoint Cross(EdgeLine other)
    {
        double cross = Direction.X * other.Direction.Y - Direction.Y * other.Direction.X;
        PlanePoint between = other.Point - Point;
        double t = (between.X * other.Direction.Y - between.Y * other.Direction.X) / cross;
        return Point + Direction * t;
    }
}
