namespace CardScan.Vision;

/// <summary>
/// Where along a side light comes through, to a fraction of the picture's blur. A stretch that is long against the blur
/// ends where its light passes a threshold, less what blur carries over the end; a short one, of light or of shade, is
/// known from how far it rises or falls. See docs/method, "Sides".
/// </summary>
internal static class OpenStretches
{
    /// <summary>Parts of a point of the scan: ends of stretches are known better than the scan's step.</summary>
    public const int Fineness = 4;

    /// <summary>A stretch of light that is seen no longer than this many blurs (standard deviations) has ends that meet.</summary>
    private const double BlursOfSpot = 6;

    /// <summary>Below this share of the light of an open point something holds.</summary>
    private const double BridgeShare = 0.5;

    /// <summary>Rough walls swallow less light than this here and there, mm of its width; a bridge swallows all.</summary>
    private const double RoughMm = 0.1;

    /// <summary>The stretches of a side.</summary>
    /// <param name="scan">The side.</param>
    /// <param name="lit">Its light.</param>
    /// <param name="lamp">How the photo shows a bright slit.</param>
    /// <param name="threshold">Luminance from which on a point counts as lit.</param>
    /// <param name="own">The side's own slit of light; null where it has too little.</param>
    /// <param name="visibleMm">Width of the side's light, mm; expected where <paramref name="own"/> is null.</param>
    /// <returns>Lit or unknown, <see cref="Fineness"/> for each point of the scan.</returns>
    public static Station[] Of(SideScan scan, LitSide lit, LampFit lamp, double threshold, SideKerf? own, double visibleMm)
    {
        Station[] stations = new Station[scan.Profiles.Length * Fineness];
        foreach ((double fromMm, double toMm) in LitRuns(scan, lit, lamp, threshold, own is null, visibleMm))
            Fill(stations, scan, fromMm, toMm, Station.Lit);
        if (own is null) return stations;
        foreach ((double atMm, double lengthMm) in ShortBridges(scan, lit, lamp, own))
            Fill(stations, scan, atMm - lengthMm / 2, atMm + lengthMm / 2, Station.Unknown);
        return stations;
    }

    private static IEnumerable<(double FromMm, double ToMm)> LitRuns(SideScan scan, LitSide lit, LampFit lamp, double threshold,
        bool areSpots, double visibleMm)
    {
        double peak = lamp.PeakOf(visibleMm);
        double[] brightest = [.. scan.Profiles.Select(profile => profile.Max())];
        foreach ((_, int start, int end) in Runs.Of(lit.IsLit).Where(run => run.Value))
        {
            // Where light continues around the corner there is nothing to draw in.
            bool isStartFree = start > 0 && !lit.IsNeighbours[start - 1], isEndFree = end < brightest.Length && !lit.IsNeighbours[end];
            if (areSpots && isStartFree && isEndFree && (end - start) * scan.StepMm < BlursOfSpot * lamp.BlurMm)
            {
                yield return LightSpot.Fit(scan, lit, lamp, start, end, visibleMm);
                continue;
            }

            double from = isStartFree ? Crossing(start - 1, start) : start * scan.StepMm;
            double to = isEndFree ? Crossing(end, end - 1) : end * scan.StepMm;
            double seenMm = isStartFree && isEndFree ? to - from : 2 * (to - from);
            double spreadMm = (seenMm - lamp.LengthOf(seenMm, lit.AboveGroove(threshold), peak)) / 2;
            yield return (isStartFree ? from + spreadMm : from, isEndFree ? to - spreadMm : to);
        }

        // Between the middles of a dark and a lit point, where the light passes the threshold.
        double Crossing(int dark, int bright)
        {
            double share = (threshold - brightest[dark]) / Math.Max(brightest[bright] - brightest[dark], 1e-6);
            return (dark + 0.5 + (bright - dark) * Math.Clamp(share, 0, 1)) * scan.StepMm;
        }
    }

    /// <summary>Bridges so short that light from both of their ends meets over them.</summary>
    private static IEnumerable<(double AtMm, double LengthMm)> ShortBridges(SideScan scan, LitSide lit, LampFit lamp, SideKerf slit)
    {
        double[] shares = lamp.OpenShares(scan.Profiles, lit, slit);
        bool[] isShaded = [.. shares.Select((share, i) =>
            share < BridgeShare && (1 - share) * slit.VisibleMm > RoughMm && !lit.IsNeighbours[i])];
        foreach ((_, int start, int end) in Runs.Of(isShaded).Where(run => run.Value))
        {
            if (!lit.IsLit[start..end].All(isLit => isLit)) continue;
            double depth = 0, moment = 0;
            for (int i = start; i < end; i++)
            {
                depth += 1 - shares[i];
                moment += (1 - shares[i]) * (i + 0.5);
            }

            yield return (moment / depth * scan.StepMm, lamp.LengthOfShade(shares[start..end].Min()));
        }
    }

    private static void Fill(Station[] stations, SideScan scan, double fromMm, double toMm, Station with)
    {
        double fineMm = scan.StepMm / Fineness;
        int from = Math.Max(0, (int)Math.Round(fromMm / fineMm)), to = Math.Min(stations.Length, (int)Math.Round(toMm / fineMm));
        for (int i = from; i < to; i++) stations[i] = with;
    }
}
