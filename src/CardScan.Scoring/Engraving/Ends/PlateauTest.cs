namespace CardScan.Scoring.Engraving;

/// <summary>Whether the curve has levelled off inside the card.</summary>
/// <param name="PlateauShare">Share of its plateau that the strongest cell reaches.</param>
/// <param name="Low">Lower limit of the share's 95 % interval.</param>
/// <param name="High">Upper limit of the share's 95 % interval.</param>
/// <param name="LevelledProbability">Probability of a curve this steep or steeper, had it levelled off.</param>
/// <param name="HalfwayProbability">Probability of a curve this flat or flatter, were the card only halfway to its plateau.</param>
/// <param name="DoseFactor">
/// Times the highest dose at which the curve would reach 95 % of its plateau; 1.3 to 4, since the law is not trusted further out.
/// </param>
internal sealed record PlateauTest(
    double PlateauShare, double Low, double High, double LevelledProbability, double HalfwayProbability, double DoseFactor)
{
    /// <summary>Share of the plateau from which on a curve counts as levelled off.</summary>
    public const double LevelledShare = 0.85;

    /// <summary>Level of both one-sided tests.</summary>
    public const double Level = 0.05;

    /// <summary>Least share, by best estimate, for which a full mark is spoken of at all.</summary>
    private const double LeastShare = 0.8;

    private const double HalfwayShare = 0.5;
    private const double ShareAimedAt = 0.95;
    private const double LeastFactor = 1.3, MostFactor = 4;

    /// <summary>
    /// A full mark is spoken of where the best estimate is near the plateau, the card does not refute that it has
    /// levelled off, and it does refute that it is only halfway: a card whose curve could be anything shows nothing.
    /// </summary>
    public bool HasLevelledOff => PlateauShare >= LeastShare && LevelledProbability >= Level && HalfwayProbability < Level;

    /// <summary>
    /// Averaged over the laws. One that has its peak inside the card has levelled off; one that only might fall past the card
    /// says nothing of a plateau, and has no say where another does.
    /// </summary>
    public static PlateauTest Of(LawChoice choice)
    {
        (LawFit Fit, double Weight)[] laws =
            [.. choice.Laws.Where(law => law.Fit.IsPeaked || law.Fit.Law.Curve.FirstShapeReaching(LevelledShare) is not null)];
        if (laws.Length == 0) laws = [.. choice.Laws];
        double all = laws.Sum(law => law.Weight);
        return new(
            Average(fit => ShareAt(fit, 0)), Average(fit => ShareAt(fit, -1)), Average(fit => ShareAt(fit, 1)),
            Average(fit => 1 - fit.ProbabilityIfReaching(LevelledShare) ?? 1),
            Average(fit => fit.ProbabilityIfReaching(HalfwayShare) ?? 0),
            FactorOf(choice.Best));

        double Average(Func<LawFit, double> figure) => laws.Sum(law => law.Weight * figure(law.Fit)) / all;
    }

    /// <summary>Share of the plateau at the best estimate, or at a limit of its 95 % interval.</summary>
    private static double ShareAt(LawFit fit, int side)
    {
        int first = fit.Law.FirstShape;
        double half = fit.StudentQuantile * Math.Sqrt(fit.Covariance[first, first]);
        return fit.Law.Curve.PlateauShare(fit.Parameters[first] + side * half);
    }

    private static double FactorOf(LawFit fit)
    {
        double plateau = 1 / ShareAt(fit, 0);
        double factor = LeastFactor;
        while (factor < MostFactor && fit.Law.Curve.Value(fit.Law.ShapeOf(fit.Parameters), factor) < ShareAimedAt * plateau) factor *= 1.05;
        return Math.Min(factor, MostFactor);
    }
}
