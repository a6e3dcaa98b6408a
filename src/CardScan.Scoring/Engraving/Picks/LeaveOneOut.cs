using CardScan.Model;
using CardScan.Scoring.Engraving.Doubt;

namespace CardScan.Scoring.Engraving;

/// <summary>How much a recommendation hangs on single cells.</summary>
internal static class LeaveOneOut
{
    /// <summary>
    /// Share of the cells, 0 to 1, any one of which can be left out without the fastest full mark changing. The cell
    /// itself stays a candidate.
    /// </summary>
    /// <remarks>
    /// Each draw counts by one over its likelihood of the cell left out (A. E. Gelfand, in Markov Chain Monte Carlo in
    /// Practice, 1996, ch. 9; from memory).
    /// </remarks>
    public static double Stability(MarkDraws draws, MarkEstimate[] estimates, MarkEstimate chosen, ScoringOptions options)
    {
        // Which cells are believable, and how fast, does not hang on one cell. Slower ones than the chosen never come first.
        int[][] faster =
            [.. EngraveGoals.FastestFirst(estimates).TakeWhile(estimate => !ReferenceEquals(estimate, chosen)).Select(FullMarks)];
        int[] own = FullMarks(chosen);
        double[] weights = new double[draws.Count];
        int same = 0;
        for (int left = 0; left < estimates.Length; left++)
        {
            draws.FillWeightsWithout(left, weights);
            if (IsSure(own) && !faster.Any(IsSure)) same++;
        }

        return (double)same / estimates.Length;

        int[] FullMarks(MarkEstimate estimate) =>
            draws.FullMarks(Array.FindIndex(estimates, one => ReferenceEquals(one, estimate)), options.FullMarkShare);

        bool IsSure(int[] fullMarks)
        {
            double probability = 0;
            foreach (int draw in fullMarks) probability += weights[draw];
            return probability >= options.FullMarkConfidence;
        }
    }
}
