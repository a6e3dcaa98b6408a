namespace CardScan.Vision;

/// <summary>The light along one side.</summary>
/// <param name="IsLit">Station by station: this side's own light is seen.</param>
/// <param name="IsNeighbours">Station by station: the light seen here is the crossing side's, so nothing is known of this one.</param>
/// <param name="Share">Share of the stations outside tabs that are lit.</param>
/// <param name="UnlitShare">
/// Stations outside tabs that are not lit, as a share of all stations: corners are among them, tabs or not.
/// </param>
/// <param name="MeanProfile">Mean profile of the lit stations above their dark groove; null where none is lit.</param>
/// <param name="GrooveLevel">Luminance of the dark groove; 0 where no station is lit.</param>
internal sealed record LitSide(
    bool[] IsLit, bool[] IsNeighbours, double Share, double UnlitShare, double[]? MeanProfile, double GrooveLevel)
{
    /// <summary>Near its ends a side is lit by its neighbours too, mm.</summary>
    private const double CornerMm = 0.4;

    /// <summary>Innermost samples of a profile: a crossing side's light reaches here, the side's own does not.</summary>
    private const int InnerSamples = 5;

    /// <summary>Finds the light of a side.</summary>
    public static LitSide Of(SideScan scan, double threshold)
    {
        bool[] isNeighbours = [.. scan.Profiles.Select((profile, i) => IsNearEnd(scan, i) && profile[..InnerSamples].Max() > threshold)];
        bool[] isLit = [.. scan.Profiles.Select((profile, i) => !isNeighbours[i] && profile.Max() > threshold)];
        bool[] isLitCut = [.. isLit.Select((lit, i) => lit && !scan.IsTab(i))];
        int cut = isLit.Where((_, i) => !scan.IsTab(i)).Count(), count = isLitCut.Count(lit => lit);
        if (count == 0) return new(isLit, isNeighbours, 0, 1, null, 0);
        (double[] profile, double groove) = OfGroove(MeanOf(scan, isLitCut, count));
        return new(isLit, isNeighbours, (double)count / cut, (double)(cut - count) / isLit.Length, profile, groove);
    }

    /// <summary>
    /// False where blur carries so much light beside the slit that its groove is brighter than half the way from the card's
    /// face to what counts as light: then neither ends of the light nor its width can be told.
    /// </summary>
    public bool IsToldApart(double faceLevel, double threshold) => GrooveLevel < (faceLevel + threshold) / 2;

    /// <summary>Luminance above the dark groove, where 1 is the top of the photo's scale.</summary>
    public double AboveGroove(double luminance) => AboveGroove(luminance, GrooveLevel);

    private static bool IsNearEnd(SideScan scan, int station)
    {
        double fromStart = (station + 0.5) * scan.StepMm;
        return Math.Min(fromStart, scan.LengthMm - fromStart) < CornerMm;
    }

    private static double[] MeanOf(SideScan scan, bool[] isLit, int count)
    {
        double[] mean = new double[2 * SideScan.HalfOffsets + 1];
        for (int s = 0; s < isLit.Length; s++)
        {
            if (!isLit[s]) continue;
            for (int o = 0; o < mean.Length; o++) mean[o] += scan.Profiles[s][o] / count;
        }

        return mean;
    }

    /// <summary>The light above the groove's darkness, and nothing beyond the groove: the card's face is not light.</summary>
    private static (double[] Profile, double GrooveLevel) OfGroove(double[] mean)
    {
        int peak = Array.IndexOf(mean, mean.Max());
        int left = Foot(mean, peak, -1), right = Foot(mean, peak, +1);
        double dark = Math.Min(mean[left], mean[right]);
        return ([.. mean.Select((value, o) => o < left || o > right ? 0 : AboveGroove(value, dark))], dark);
    }

    private static double AboveGroove(double luminance, double groove) => Math.Max(0, (luminance - groove) / Math.Max(1 - groove, 0.1));

    private static int Foot(double[] mean, int peak, int step)
    {
        int o = peak;
        while (o + step >= 0 && o + step < mean.Length && (mean[o + step] <= mean[o] || mean[o] > 0.5 * mean[peak])) o += step;
        return o;
    }
}
