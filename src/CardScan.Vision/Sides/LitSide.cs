namespace CardScan.Vision;

/// <summary>The light along one side.</summary>
/// <param name="IsLit">Station by station: this side's own light is seen.</param>
/// <param name="IsNeighbours">Station by station: the light seen here is the crossing side's, so nothing is known of this one.</param>
/// <param name="Share">Share of the stations that are lit.</param>
/// <param name="MeanProfile">Mean profile of the lit stations above their dark groove; null where none is lit.</param>
internal sealed record LitSide(bool[] IsLit, bool[] IsNeighbours, double Share, double[]? MeanProfile)
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
        int count = isLit.Count(lit => lit);
        return new(isLit, isNeighbours, (double)count / isLit.Length, count == 0 ? null : AboveGroove(MeanOf(scan, isLit, count)));
    }

    /// <summary>Lit points, each run drawn in by what blur and clipping add at its ends.</summary>
    /// <param name="scan">The side.</param>
    /// <param name="spreadMm">What they add at one end, mm.</param>
    public Station[] Stations(SideScan scan, double spreadMm)
    {
        int spread = (int)Math.Round(spreadMm / scan.StepMm);
        Station[] stations = new Station[IsLit.Length];
        foreach ((_, int start, int end) in Runs.Of(IsLit).Where(run => run.Value)) FillRun(stations, start, end, spread);

        return stations;
    }

    private void FillRun(Station[] stations, int start, int end, int spread)
    {
        // Where light continues around the corner there is nothing to draw in.
        int from = start == 0 || IsNeighbours[start - 1] ? start : start + spread;
        int to = end == stations.Length || IsNeighbours[end] ? end : end - spread;
        if (to <= from) (from, to) = ((start + end) / 2, (start + end) / 2 + 1);
        for (int i = from; i < to; i++) stations[i] = Station.Lit;
    }

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

    /// <summary>Takes the groove's darkness off, and everything beyond the groove: the card's face is not light.</summary>
    private static double[] AboveGroove(double[] mean)
    {
        int peak = Array.IndexOf(mean, mean.Max());
        int left = Foot(mean, peak, -1), right = Foot(mean, peak, +1);
        double dark = Math.Min(mean[left], mean[right]);
        return [.. mean.Select((value, o) => o < left || o > right ? 0 : Math.Max(0, (value - dark) / Math.Max(1 - dark, 0.1)))];
    }

    private static int Foot(double[] mean, int peak, int step)
    {
        int o = peak;
        while (o + step >= 0 && o + step < mean.Length && (mean[o + step] <= mean[o] || mean[o] > 0.5 * mean[peak])) o += step;
        return o;
    }
}
