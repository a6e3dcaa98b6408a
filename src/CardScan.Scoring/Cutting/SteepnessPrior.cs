using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Cutting;

/// <summary>What cuts have in common, for cards too small to tell it: how steep the step from held to through is.</summary>
/// <remarks>
/// As if, for power and for speed, four more sides had been judged with a fifth more ln dose than their limit, wherever that
/// is, and eleven in twelve of them had been through: likeliest at an exponent of 12, half as likely at 3.5 and 28, and
/// outvoted by a large card. A prior as data: S. Greenland, M. A. Mansournia, Stat. Med. 34 (2015) 3133–3143 (log-F priors;
/// named from memory). docs/method/cut-scoring.md, "Known beforehand".
/// </remarks>
internal static class SteepnessPrior
{
    /// <summary>The likeliest exponent, before a card tells.</summary>
    public const double Exponent = 12;

    private const double Sides = 4, MoreLnDose = 0.2;

    private static readonly double Through = Sides / (1 + Math.Exp(-Exponent * MoreLnDose));

    /// <summary>
    /// The observations with that knowledge added; the rows have no intercept, so nothing is said of where the limit lies.
    /// </summary>
    public static LogisticData AddTo(LogisticData data, CutTerms terms)
    {
        double[][] known = [.. ((int[])[terms.Power, terms.Speed]).Where(term => term >= 0).Select(term =>
        {
            double[] row = new double[terms.Count];
            row[term] = MoreLnDose;
            return row;
        })];
        return new([.. data.Design, .. known], [.. data.Successes, .. known.Select(_ => Through)],
            [.. data.Trials, .. known.Select(_ => Sides)]);
    }
}
