namespace CardScan.Vision;

/// <summary>How much of the light's unevenness the markers show to be a veil, 0 (a lamp) to 1 (a veil).</summary>
/// <param name="Best">The best estimate; below 0 where marks are stronger in brighter light.</param>
/// <param name="Error">Its standard error; infinite where they cannot tell.</param>
internal sealed record VeilingGlareShare(double Best, double Error)
{
    /// <summary>
    /// Marks of the same setting differ from corner to corner of a card by this share of the mark, in focus and material
    /// (no source).
    /// </summary>
    private const double MarkChance = 0.02;

    /// <summary>Marks fainter than this tell nothing.</summary>
    private const double LeastMark = 0.2;

    private const int Steps = 100;

    /// <summary>Nothing is known.</summary>
    public static readonly VeilingGlareShare Unknown = new(0, double.PositiveInfinity);

    /// <summary>The share that is surely veil.</summary>
    public double Sure => double.IsInfinity(Error) ? 0 : Math.Clamp(Best - Error, 0, 1);

    /// <summary>Root mean square of the shares between 0 and 1 that the markers allow, all being as likely beforehand.</summary>
    public double Open
    {
        get
        {
            double[] shares = [.. Enumerable.Range(0, Steps + 1).Select(i => i / (double)Steps)];
            double nearest = Math.Clamp(Best, 0, 1);
            double[] weights = [.. shares.Select(share => double.IsInfinity(Error)
                ? 1
                : Math.Exp((Math.Pow(nearest - Best, 2) - Math.Pow(share - Best, 2)) / (2 * Error * Error)))];
            return Math.Sqrt(Robust.Mean([.. shares.Select(share => share * share)], weights));
        }
    }

    /// <summary>
    /// A mark of true ratio r under light of which a share s is veil shows r + (1 − r) s: the slope of the seen ratios over the
    /// share of light above the least, if all of it were veil, is (1 − r) times what is sought.
    /// </summary>
    /// <param name="marks">The markers.</param>
    /// <param name="logExcess">How far the light's field stands above its least level at a place, natural log.</param>
    public static VeilingGlareShare Of(MarkerMark[] marks, Func<PlanePoint, double> logExcess)
    {
        MarkerMark[] known = [.. marks.Where(mark => double.IsFinite(mark.Ratio))];
        if (known.Length < 2) return Unknown;
        double[] shares = [.. known.Select(mark => 1 - Math.Exp(-logExcess(mark.Centre)))];
        double meanShare = shares.Average(), meanRatio = known.Average(mark => mark.Ratio);
        double squares = shares.Sum(share => Math.Pow(share - meanShare, 2));
        if (squares < 1e-9) return Unknown;
        double slope = known.Select((mark, i) => (shares[i] - meanShare) * (mark.Ratio - meanRatio)).Sum() / squares;
        double mark = 1 - (meanRatio - slope * meanShare);
        if (Math.Abs(mark) < LeastMark) return Unknown;
        double rest = known.Select((one, i) => Math.Pow(one.Ratio - meanRatio - slope * (shares[i] - meanShare), 2)).Average();
        double error = Math.Sqrt(Math.Pow(MarkChance * mark, 2) + known.Average(one => one.Error * one.Error) + rest);
        return new(slope / mark, error / Math.Abs(mark) / Math.Sqrt(squares));
    }
}
