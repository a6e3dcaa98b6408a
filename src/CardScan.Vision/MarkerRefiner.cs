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
    private const int ProfilesPerEdge = 48;
    private const int SamplesPerProfile = 25;

    /// <summary>The 8 × 8 modules of a marker: the border is one module wide.</summary>
    private const double ModulesPerSide = 8;

    /// <summary>Refines the corners of all markers; a marker whose edges cannot be followed is left out.</summary>
    public static ValueList<RefinedMarker> Refine(Picture picture, MarkerSet markers)
    {
        List<RefinedMarker> refined = [];
        foreach (SeenMarker marker in markers.Markers)
        {
            if (Refine(picture, marker.Corners) is { } result) refined.Add(result with { Place = marker.Place });
        }

        return refined.ToValueList();
    }

    private static RefinedMarker? Refine(Picture picture, ValueList<PlanePoint> corners)
    {
        RefinedMarker? result = null;
        // The first round starts a few pixels off; the second, centred, is free of what the first cut off.
        for (int round = 0; round < 2; round++)
        {
            EdgeLine?[] lines = new EdgeLine?[4];
            for (int side = 0; side < 4; side++)
                lines[side] = FollowEdge(picture, corners[side], corners[(side + 1) % 4], round == 0 ? 0.9 : 0.7);
            if (lines.Any(line => line is null)) return null;

            PlanePoint[] crossings = [.. Enumerable.Range(0, 4).Select(i => lines[(i + 3) % 4]!.Value.Cross(lines[i]!.Value))];
            double shift = Enumerable.Range(0, 4).Max(i => crossings[i].DistanceTo(corners[i]));
            if (shift > 0.25 * corners[0].DistanceTo(corners[1])) return null;
            corners = crossings.ToValueList();
            result = new RefinedMarker(0, corners, lines.Average(line => line!.Value.ScatterPx), lines.Average(line => line!.Value.BlurPx));
        }

        return result;
    }

    /// <summary>Fits a line to one edge.</summary>
    /// <param name="picture">The photo.</param>
    /// <param name="from">Corner at the edge's start; the marker lies to the right of the way.</param>
    /// <param name="to">Corner at its end.</param>
    /// <param name="reachModules">Half length of the profiles, in modules.</param>
    private static EdgeLine? FollowEdge(Picture picture, PlanePoint from, PlanePoint to, double reachModules)
    {
        PlanePoint along = to - from;
        double length = along.Length;
        PlanePoint direction = along * (1 / length);
        PlanePoint inward = new(-direction.Y, direction.X);
        double reach = reachModules * length / ModulesPerSide;

        double[][] profiles = new double[ProfilesPerEdge][];
        double[] positions = new double[ProfilesPerEdge];
        for (int i = 0; i < ProfilesPerEdge; i++)
        {
            positions[i] = length * (0.08 + 0.84 * i / (ProfilesPerEdge - 1));
            PlanePoint foot = from + direction * positions[i];
            profiles[i] = [.. Enumerable.Range(0, SamplesPerProfile).Select(s =>
            {
                PlanePoint at = foot + inward * (reach * Offset01(s));
                return picture.LuminanceAt(at.X, at.Y);
            })];
        }

        // Grain makes single profiles uncertain, so the levels are the edge's, and only the place is the profile's own.
        double outer = Median(profiles.SelectMany(profile => profile[..5]));
        double inner = Median(profiles.SelectMany(profile => profile[^5..]));
        if (Math.Abs(outer - inner) < 0.15 * Math.Max(outer, inner)) return null;

        double[] offsets = [.. profiles.Select(profile => EdgeOffset(profile, reach))];
        return EdgeLine.Fit(from, direction, inward, positions, offsets, BlurOf(profiles, offsets, outer, inner, reach));
    }

    private static double Offset01(int sample) => 2.0 * sample / (SamplesPerProfile - 1) - 1;

    /// <summary>Distance of the edge from the profile's middle, px, positive inward.</summary>
    private static double EdgeOffset(double[] profile, double reach)
    {
        double outer = (profile[0] + profile[1] + profile[2] + profile[3]) / 4;
        double inner = (profile[^1] + profile[^2] + profile[^3] + profile[^4]) / 4;
        if (Math.Abs(outer - inner) < 1e-4) return double.NaN;
        double share = 0;
        for (int i = 0; i < profile.Length; i++)
        {
            double weight = i == 0 || i == profile.Length - 1 ? 0.5 : 1;
            share += weight * (profile[i] - inner) / (outer - inner);
        }

        // share · step is the length of the profile that lies outside.
        double step = 2 * reach / (profile.Length - 1);
        return share * step - reach;
    }

    /// <summary>Standard deviation of the edge's spread, px: the mean profile about its edge, as a Gaussian.</summary>
    private static double BlurOf(double[][] profiles, double[] offsets, double outer, double inner, double reach)
    {
        // Width of the band where the mean profile lies between 16 % and 84 %, which is two standard deviations.
        double[] mean = [.. Enumerable.Range(0, SamplesPerProfile).Select(s =>
            profiles.Where((_, i) => double.IsFinite(offsets[i])).Average(profile => (profile[s] - inner) / (outer - inner)))];
        return (Crossing(mean, 0.1587, reach) - Crossing(mean, 0.8413, reach)) / 2;
    }

    private static double Crossing(double[] falling, double level, double reach)
    {
        for (int i = 1; i < falling.Length; i++)
        {
            if (falling[i] > level) continue;
            double part = falling[i - 1] == falling[i] ? 0 : (falling[i - 1] - level) / (falling[i - 1] - falling[i]);
            return reach * (2 * (i - 1 + Math.Clamp(part, 0, 1)) / (falling.Length - 1) - 1);
        }

        return reach;
    }

    private static double Median(IEnumerable<double> values)
    {
        double[] sorted = [.. values.Order()];
        return sorted.Length % 2 == 1 ? sorted[sorted.Length / 2] : (sorted[sorted.Length / 2 - 1] + sorted[sorted.Length / 2]) / 2;
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
    public static EdgeLine? Fit(PlanePoint origin, PlanePoint direction, PlanePoint normal, double[] positions, double[] offsets, double blurPx)
    {
        double[] weights = [.. offsets.Select(offset => double.IsFinite(offset) ? 1.0 : 0.0)];
        double intercept = 0, slope = 0, scatter = 0;
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

            double[] residuals = [.. offsets.Select((offset, i) => double.IsFinite(offset) ? Math.Abs(offset - intercept - slope * positions[i]) : double.NaN)];
            double[] known = [.. residuals.Where(double.IsFinite).Order()];
            scatter = Math.Max(known[known.Length / 2] * 1.4826, 1e-3);
            // Tukey's biweight: a scratch or a spot of soot across the edge has no vote.
            weights = [.. residuals.Select(r => double.IsFinite(r) && r < 4.685 * scatter ? Math.Pow(1 - Math.Pow(r / (4.685 * scatter), 2), 2) : 0.0)];
        }

        PlanePoint tilted = direction + normal * slope;
        return new EdgeLine(origin + normal * intercept, tilted * (1 / tilted.Length), scatter, blurPx);
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
