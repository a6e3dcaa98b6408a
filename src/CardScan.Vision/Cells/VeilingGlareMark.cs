namespace CardScan.Vision;

/// <summary>A mark under a veil.</summary>
/// <param name="LogRatio">Seen luminance against bare material's, natural log.</param>
/// <param name="Veil">Mirrored light that may lie over it, as a share of bare material's.</param>
internal sealed record VeilingGlareMark(double LogRatio, double Veil)
{
    /// <summary>Marks fainter than this tell too little of a stretch, natural log: a density of 0.1.</summary>
    internal const double LeastLog = 0.23;

    internal const int FewestMarks = 3;

    /// <summary>
    /// How far the veil moves the log ratio: a true ratio r is seen as q = (r + v)/(1 + v), so r/q = 1 − v (1 − q)/q.
    /// </summary>
    private double Moved => Veil * (1 - Math.Exp(LogRatio)) / Math.Exp(LogRatio);

    /// <summary>
    /// By which share the veils stretch all darkness of a photo alike (not above 0): the median over its marks; 0 where
    /// there are too few.
    /// </summary>
    public static double StretchOf(IEnumerable<VeilingGlareMark?> marks)
    {
        double[] stretches = [.. marks.OfType<VeilingGlareMark>().Where(mark => Math.Abs(mark.LogRatio) > LeastLog)
            .Select(mark => mark.Moved / mark.LogRatio)];
        return stretches.Length < FewestMarks ? 0 : Robust.Median(stretches);
    }

    /// <summary>
    /// How far the veil moves the log ratio beyond that stretch, which the photo states for all cells; natural log, not
    /// below 0.
    /// </summary>
    public double Beyond(double stretch) => Math.Abs(Moved - stretch * LogRatio);
}
