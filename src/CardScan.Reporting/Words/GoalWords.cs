using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Goals, confidence and intervals in words.</summary>
internal static class GoalWords
{
    /// <summary>The goal's name.</summary>
    public static string Name(string goal) => goal switch
    {
        Goal.FastestFullMark => "Fastest full mark",
        Goal.Darkest => "Strongest mark",
        Goal.SureCut => "Sure cut",
        Goal.CleanCut => "Cleanest sure cut",
        _ => Sentence.Capital(Sentence.FromCode(goal)),
    };

    /// <summary>The name of a recommendation's goal: nothing is called cleanest where char was not measured.</summary>
    public static string Name(Recommendation recommendation, Reading reading) => (StandsInForClean(recommendation, reading), reading.IsHeldByBridges(recommendation)) switch
    {
        (true, true) => "Least energy that cuts, with small bridges",
        (false, true) => recommendation.Goal == Goal.SureCut ? "Cuts through, apart from small bridges" : "Cleanest cut with small bridges",
        (true, false) when Reading.IsUnsureCut(recommendation) => "Least energy that is likely to cut, not sure",
        _ when Reading.IsUnsureCut(recommendation) => recommendation.Goal == Goal.SureCut ? "Likely cut, not sure" : "Cleanest likely cut, not sure",
        (true, false) => "Least energy that cuts surely",
        _ => Name(recommendation.Goal),
    };

    /// <summary>What a recommendation's goal means.</summary>
    public static string Meaning(Recommendation recommendation, Reading reading) => (StandsInForClean(recommendation, reading), reading.IsHeldByBridges(recommendation)) switch
    {
        (true, true) => "The least energy among the settings that cut through, in place of the least char; short bridges still hold some sides.",
        (true, false) => "The least energy among the settings that cut through surely, in place of the least char.",
        (false, true) => $"The {(recommendation.Goal == Goal.SureCut ? "highest speed, then the lowest power," : "least char")} among the settings that cut through on four sides; short bridges still hold some of them.",
        _ => Meaning(recommendation.Goal),
    };

    private static bool StandsInForClean(Recommendation recommendation, Reading reading) =>
        recommendation.Goal == Goal.CleanCut && reading.CellOf(recommendation)?.HaloMm is null;

    /// <summary>What the goal means; empty for a goal this version does not know.</summary>
    public static string Meaning(string goal) => goal switch
    {
        Goal.FastestFullMark => "The highest speed, then the lowest power, that still gives a full mark: one that comes as near to the strongest mark of this card as was asked for.",
        Goal.Darkest => "The strongest mark whose halo stays within the limit.",
        Goal.SureCut => "The highest speed, then the lowest power, that is through on all four sides with the stated probability.",
        Goal.CleanCut => "The least char among the settings that cut through surely.",
        _ => "",
    };

    /// <summary>A probability in words.</summary>
    /// <remarks>
    /// The likelihood scale of the Intergovernmental Panel on Climate Change: M. D. Mastrandrea and others, Guidance
    /// Note for Lead Authors of the IPCC Fifth Assessment Report on Consistent Treatment of Uncertainties (2010), table 1.
    /// </remarks>
    public static string Confidence(double probability) => probability switch
    {
        >= 0.99 => "virtually certain",
        >= 0.95 => "extremely likely",
        >= 0.90 => "very likely",
        >= 0.66 => "likely",
        >= 0.33 => "about as likely as not",
        >= 0.10 => "unlikely",
        _ => "very unlikely",
    };

    /// <summary>An interval in words: what it is of, its value and limits with their unit.</summary>
    public static (string Name, string Values) Interval(Interval interval)
    {
        // A share reads better as percent, as in the sentences beside it.
        if (ShareName(interval.Quantity) is { } share)
            return (share, Numbers.PercentWithInterval(interval.Value, interval.Low, interval.High));

        (string name, string unit) = Quantity(interval.Quantity);
        return (name, Numbers.WithInterval(interval.Value, interval.Low, interval.High, unit));
    }

    private static string? ShareName(string code) => code switch
    {
        "probability" => "probability",
        "probabilityThrough" => "probability of being through",
        "shareOfStrongestMark" => "share of the strongest mark",
        _ => null,
    };

    /// <summary>The figure an interval is of, with its unit taken from the end of its name.</summary>
    public static (string Name, string Unit) Quantity(string code)
    {
        if (code == "markStrength") return ("mark strength", "");
        foreach ((string ending, string unit) in Units)
        {
            if (code.EndsWith(ending, StringComparison.Ordinal)) return (Sentence.FromCode(code[..^ending.Length]), unit);
        }

        return (Sentence.FromCode(code), "");
    }

    private static readonly (string Ending, string Unit)[] Units =
        [("MmPerMin", "mm/min"), ("Percent", "%"), ("JPerMm2", "J/mm²"), ("JPerMm", "J/mm"), ("Mm", "mm")];
}
