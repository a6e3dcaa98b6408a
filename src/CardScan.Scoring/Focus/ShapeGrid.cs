namespace CardScan.Scoring.Focus;

/// <summary>Fits at every place and depth of the focus on a grid: even steps in place, even factors in depth.</summary>
/// <param name="Places">Places, mm.</param>
/// <param name="Depths">Rayleigh lengths, mm.</param>
/// <param name="Fits">Places × depths.</param>
internal sealed record ShapeGrid(double[] Places, double[] Depths, WidthFit[,] Fits)
{
    private const int PlaceSteps = 60, DepthSteps = 32;

    /// <summary>Fits at every point of a grid.</summary>
    public static ShapeGrid Of(double fromMm, double toMm, double shallowMm, double deepMm, Func<BeamShape, WidthFit> fitOf)
    {
        double[] places = [.. Enumerable.Range(0, PlaceSteps + 1).Select(i => fromMm + (toMm - fromMm) * i / PlaceSteps)];
        double[] depths =
            [.. Enumerable.Range(0, DepthSteps + 1).Select(i => shallowMm * Math.Pow(deepMm / shallowMm, (double)i / DepthSteps))];
        WidthFit[,] fits = new WidthFit[places.Length, depths.Length];
        for (int p = 0; p < places.Length; p++)
            for (int d = 0; d < depths.Length; d++) fits[p, d] = fitOf(new(places[p], depths[d]));
        return new(places, depths, fits);
    }

    /// <summary>The fit of least misfit.</summary>
    public WidthFit Best => Fits.Cast<WidthFit>().MinBy(fit => fit.Misfit);

    /// <summary>A finer grid over all that is no worse than a limit, and a step around it.</summary>
    public ShapeGrid Closer(double limit, Func<BeamShape, WidthFit> fitOf)
    {
        int first = Places.Length, last = -1, shallow = Depths.Length, deep = -1;
        for (int p = 0; p < Places.Length; p++)
        {
            for (int d = 0; d < Depths.Length; d++)
            {
                if (Fits[p, d].Misfit > limit) continue;
                (first, last, shallow, deep) = (Math.Min(first, p), Math.Max(last, p), Math.Min(shallow, d), Math.Max(deep, d));
            }
        }

        return Of(
            Places[Math.Max(0, first - 1)], Places[Math.Min(Places.Length - 1, last + 1)],
            Depths[Math.Max(0, shallow - 1)], Depths[Math.Min(Depths.Length - 1, deep + 1)], fitOf);
    }

    /// <summary>The places whose least misfit is within a limit: from where to where, the crossing taken from place to place.</summary>
    public (double FromMm, double ToMm) Within(double limit)
    {
        double[] least = [.. Places.Select((_, p) => Depths.Select((_, d) => Fits[p, d].Misfit).Min())];
        int first = Array.FindIndex(least, misfit => misfit <= limit), last = Array.FindLastIndex(least, misfit => misfit <= limit);
        return (first == 0 ? Places[0] : Crossing(first - 1, first), last == Places.Length - 1 ? Places[^1] : Crossing(last + 1, last));

        double Crossing(int outside, int inside) =>
            Places[inside] + (Places[outside] - Places[inside]) * (limit - least[inside]) / (least[outside] - least[inside]);
    }
}
