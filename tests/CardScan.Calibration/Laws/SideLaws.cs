namespace CardScan.Calibration;

/// <summary>The cutting laws of the study, by name.</summary>
internal static class SideLaws
{
    public const string Logistic = "logistic", Probit = "probit with threshold", Charred = "dose law broken by char";

    public static readonly string[] Names = [Logistic, Probit, Charred];

    /// <summary>Logit a unit of ln dose: from 10 to 90 % of the sides over 44, 18 and 9 % more dose.</summary>
    private static readonly Dictionary<string, double> Logits = new() { ["gentle"] = 12, ["middling"] = 25, ["steep"] = 50 };

    public static readonly string[] Steepnesses = [.. Logits.Keys];

    public static SideLaw Of(string name, string steepness) => name switch
    {
        Logistic or Charred => new LogisticSides(Logits[steepness]),
        Probit => new ThresholdProbitSides(Logits[steepness]),
        _ => throw new ArgumentOutOfRangeException(nameof(name), name, "No law of this name."),
    };
}
