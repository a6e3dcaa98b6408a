namespace CardScan.Vision;

/// <summary>Sharpness from pixels beside slanted edges: the spatial frequency at which half of the contrast is left.</summary>
/// <remarks>
/// Source: ISO 12233:2014, clause 6.2 and annex D: quarter-pixel bins, derivative (−1/2, 0, 1/2), a window about the
/// peak, discrete Fourier transform, division by the derivative's own response. The window is Tukey's, as in the edition
/// of 2023: the marker's border leaves little room, and Hamming's would cut into the spread. See docs/method/photo-check.md.
/// </remarks>
internal sealed class EdgeSpread
{
    private const double BinPx = 0.25;
    private const int MostReachPx = 14;
    private const int Bins = (int)(2 * MostReachPx / BinPx);

    /// <summary>The response of the derivative filter goes to zero; it is not divided by less than this (ISO 12233, annex D).</summary>
    private const double MostCorrection = 10;

    private readonly double[] _sums = new double[Bins];
    private readonly int[] _counts = new int[Bins];

    /// <summary>Distances from the edge beyond this belong to no edge here, px.</summary>
    public static double ReachPx => MostReachPx;

    /// <summary>Adds a pixel.</summary>
    /// <param name="distancePx">Distance of its centre from the edge, px, positive on the one side.</param>
    /// <param name="level">Its level in linear light: 0 far on the negative side of the edge, 1 far on the positive.</param>
    public void Add(double distancePx, double level)
    {
        int bin = (int)Math.Floor((distancePx + MostReachPx) / BinPx);
        if (bin is < 0 or >= Bins) return;
        _sums[bin] += level;
        _counts[bin]++;
    }

    /// <summary>MTF50, cycles/px; null where too few pixels were added, or where no edge is among them.</summary>
    public double? Mtf50()
    {
        if (Profile() is not { } profile) return null;
        double[] spread = LineSpread(profile);
        double all = Math.Abs(Response(spread, 0));
        if (all < 0.5) return null;
        const double step = 0.002;
        double before = 1;
        for (double f = step; f <= 1; f += step)
        {
            double response = Response(spread, f) / all * Correction(f);
            if (response < 0.5) return f - step * (0.5 - response) / Math.Max(before - response, 1e-9);
            before = response;
        }

        return null;
    }

    /// <summary>Mean level by distance, with single empty bins filled by their neighbours; null where more are empty.</summary>
    private double[]? Profile()
    {
        int first = Array.FindIndex(_counts, count => count > 0), last = Array.FindLastIndex(_counts, count => count > 0);
        if (first < 0 || last - first < 4 / BinPx) return null;
        double[] profile = new double[last - first + 1];
        for (int i = 0; i < profile.Length; i++)
        {
            int bin = first + i;
            if (_counts[bin] > 0) profile[i] = _sums[bin] / _counts[bin];
            else if (_counts[bin - 1] > 0 && _counts[bin + 1] > 0)
                profile[i] = (_sums[bin - 1] / _counts[bin - 1] + _sums[bin + 1] / _counts[bin + 1]) / 2;
            else return null;
        }

        return profile;
    }

    private static double[] LineSpread(double[] profile)
    {
        double[] spread = new double[profile.Length];
        for (int i = 1; i < profile.Length - 1; i++) spread[i] = (profile[i + 1] - profile[i - 1]) / 2;
        int peak = Array.IndexOf(spread, spread.Max());
        // As wide on either side of the peak as the shorter side allows, so that the window stays centred.
        int half = Math.Min(peak, spread.Length - 1 - peak);
        return [.. Enumerable.Range(peak - half, 2 * half + 1)
            .Select((at, i) => spread[at] * Window(half == 0 ? 0 : Math.Abs(i - half) / (double)half))];
    }

    /// <summary>1 in the middle half, falling to 0 as a cosine does.</summary>
    private static double Window(double share) => share <= 0.5 ? 1 : 0.5 + 0.5 * Math.Cos(2 * Math.PI * (share - 0.5));

    private static double Response(double[] spread, double cyclesPerPx)
    {
        double re = 0, im = 0;
        for (int i = 0; i < spread.Length; i++)
        {
            (double sin, double cos) = Math.SinCos(2 * Math.PI * cyclesPerPx * i * BinPx);
            (re, im) = (re + spread[i] * cos, im + spread[i] * sin);
        }

        return Math.Sqrt(re * re + im * im);
    }

    /// <summary>One over the response of the derivative over two bins.</summary>
    private static double Correction(double cyclesPerPx)
    {
        double x = 2 * Math.PI * cyclesPerPx * BinPx;
        return Math.Min(x / Math.Sin(x), MostCorrection);
    }
}
