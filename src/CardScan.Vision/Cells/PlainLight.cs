namespace CardScan.Vision;

/// <summary>
/// The light of one far lamp through one lens: it grows evenly one way (in the logarithm), and falls with the square of the
/// distance from the middle of the photo.
/// </summary>
internal static class PlainLight
{
    /// <summary>Most light that a lens is taken to lose in the photo's corners, and the steps in which it is sought.</summary>
    private const double MostLoss = 0.6, LossStep = 0.05;

    /// <summary>Least scatter of places about the best such light.</summary>
    /// <param name="surface">The card.</param>
    /// <param name="places">Places of bare material.</param>
    /// <param name="logs">Their luminance, natural log.</param>
    /// <param name="weights">How plain each is, 0 to 1.</param>
    /// <returns>Standard deviation, natural log, judged robustly.</returns>
    public static double ScatterAbout(CardSurface surface, PlanePoint[] places, double[] logs, double[] weights)
    {
        double[][] rows = [.. places.Select(place => new[] { 1, place.X / 100, place.Y / 100 })];
        double[] radii = [.. places.Select(surface.RadiusSquaredAt)];
        return Enumerable.Range(0, (int)Math.Round(MostLoss / LossStep) + 1).Min(step => Scatter(step * LossStep));

        double Scatter(double loss)
        {
            double[] without = [.. logs.Select((log, i) => log - Math.Log(1 - loss * Math.Min(radii[i], 1)))];
            double[] plane = LeastSquares.SolveWeighted(rows, without, weights);
            return Robust.Deviation(rows.Select((row, i) => without[i] - plane[0] * row[0] - plane[1] * row[1] - plane[2] * row[2]));
        }
    }
}
