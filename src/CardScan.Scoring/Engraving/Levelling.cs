namespace CardScan.Scoring.Engraving;

/// <summary>Whether the curve has levelled off inside the card.</summary>
/// <param name="PlateauShare">Share of its plateau that the strongest cell reaches.</param>
/// <param name="Low">Lower limit of the share's 95 % interval.</param>
/// <param name="High">Upper limit of the share's 95 % interval.</param>
/// <param name="Probability">Probability of a curve this steep or less, were it levelled off.</param>
/// <param name="DoseFactor">Times the highest dose at which the curve would reach 95 % of its plateau; 1.3 to 4, since the law is not trusted further out.</param>
internal sealed record Levelling(double PlateauShare, double Low, double High, double Probability, double DoseFactor)
{
    private const double ShareAimedAt = 0.95;

    public static Levelling Of(LawFit fit)
    {
        double[] p = fit.Parameters.ToArray();
        double lnSteepness = p[DoseLaw.LnSteepness];
        double half = fit.StudentQuantile * Math.Sqrt(fit.Covariance[DoseLaw.LnSteepness, DoseLaw.LnSteepness]);
        double reach = Math.Pow(-Math.Log(1 - ShareAimedAt) / Math.Exp(lnSteepness), Math.Exp(-p[DoseLaw.LnShape]));
        double factor = p[DoseLaw.Threshold] + (1 - p[DoseLaw.Threshold]) * reach;
        return new(Share(lnSteepness), Share(lnSteepness - half), Share(lnSteepness + half), fit.LevelledProbability(), Math.Clamp(factor, 1.3, 4));

        static double Share(double lnSteepness) => 1 - Math.Exp(-Math.Exp(lnSteepness));
    }
}
