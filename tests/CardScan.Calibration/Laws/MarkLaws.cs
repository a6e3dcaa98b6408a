namespace CardScan.Calibration;

/// <summary>The engraving laws of the study, by name; each reaches 95 % of its plateau at a stated dose.</summary>
internal static class MarkLaws
{
    public const string Saturating = "saturating", Logistic = "logistic", RiseThenFall = "rise-then-fall", Staircase = "staircase";

    public static readonly string[] Names = [Saturating, Logistic, RiseThenFall, Staircase];

    public static readonly string[] Steepnesses = ["gentle", "middling", "steep"];

    public static MarkLaw Of(string name, string steepness, double fullMarkDose) => name switch
    {
        Saturating => SaturatingAt(steepness, fullMarkDose),
        Logistic => LogisticAt(Of(steepness, 2.5, 4.0, 6.0), fullMarkDose),
        RiseThenFall => new RiseThenFallLaw(SaturatingAt(steepness, fullMarkDose), 1.3 * fullMarkDose, 0.4),
        Staircase => StaircaseAt(Of(steepness, 0.7, 1.0, 1.6), fullMarkDose),
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "No law of this name."),
    };

    private static SaturatingLaw SaturatingAt(string steepness, double fullMarkDose)
    {
        double threshold = 0.08 * fullMarkDose, shape = Of(steepness, 0.9, 1.3, 2.0);
        return new(0.85, threshold, (fullMarkDose - threshold) / Math.Pow(-Math.Log(0.05), 1 / shape), shape);
    }

    private static LogisticLaw LogisticAt(double slope, double fullMarkDose) => new(0, 0.85, fullMarkDose / Math.Pow(19, 1 / slope), slope);

    private static StaircaseLaw StaircaseAt(double compression, double fullMarkDose) =>
        new(0.05, [.. new[] { (0.15, 0.2), (0.3, 0.4), (0.5, 0.6), (0.75, 0.74), (1.0, 0.85) }
            .Select(step => (fullMarkDose * Math.Pow(step.Item1, 1 / compression), step.Item2))]);

    private static double Of(string steepness, double gentle, double middling, double steep) =>
        steepness == Steepnesses[0] ? gentle : steepness == Steepnesses[1] ? middling : steep;
}
