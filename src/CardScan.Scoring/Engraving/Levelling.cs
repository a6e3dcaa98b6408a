namespace CardScan.Scoring.Engraving;

/// <summary>Whether the curve has levelled off inside the card.</summary>
/// <param name="PlateauShare">Share of its plateau that the strongest cell reaches.</param>
/// <param name="Low">Lower limit of the share's 95 % interval.</param>
/// <param name="High">Upper limit of the share's 95 % interval.</param>
/// <param name="LevelledProbability">Probability of a curve this steep or steeper, had it levelled off.</param>
/// <param name="HalfwayProbability">Probability of a curve this flat or flatter, were the card only halfway to its plateau.</param>
/// <param name="DoseFactor">Times the highest dose at which the curve would reach 95 % of its plateau; 1.3 to 4, since the law is not trusted further out.</param>
internal sealed record Levelling(
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

    /// <summary>
    /// A full mark is spoken of where the best estimate is near the plateau, the card does not refute that it has
    /// levelled off, and it does refute that it is only halfway: a card whose curve could be anything shows nothing.
    /// </summary>
    public bool HasLevelledOff => PlateauShare >= LeastShare && LevelledProbability >= Level && HalfwayProbability < Level;

    public static Levelling Of(LawFit fit)
    {
        double[] p = fit.Parameters.ToArray();
        double lnSteepness = p[DoseLaw.LnSteepness];
        double half = fit.StudentQuantile * Math.Sqrt(fit.Covariance[DoseLaw.LnSteepness, DoseLaw.LnSteepness]);
        double reach = Math.Pow(-Math.Log(1 - ShareAimedAt) / Math.Exp(lnSteepness), Math.Exp(-p[DoseLaw.LnShape]));
        double factor = p[DoseLaw.Threshold] + (1 - p[DoseLaw.Threshold]) * reach;
        return new(
            Share(lnSteepness), Share(lnSteepness - half), Share(lnSteepness + half),
            1 - fit.ProbabilityIfReaching(LevelledShare), fit.ProbabilityIfReaching(HalfwayShare), Math.Clamp(factor, 1.3, 4));

        static double Share(double lnSteepness) => 1 - Math.Exp(-Math.Exp(lnSteepness));
    }
}
