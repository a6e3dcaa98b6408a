using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Scoring.Engraving;

/// <summary>How much a recommendation hangs on single cells.</summary>
internal static class LeaveOneOut
{
    /// <summary>Share of the cells, 0 to 1, any one of which can be left out of the fit without the fastest full mark changing.</summary>
    /// <remarks>
    /// One Gauss–Newton step from the fit, exact for a linear model: leaving cell i out moves the parameters by
    /// −(JᵀJ)⁻¹ jᵢ rᵢ / (1 − hᵢ) (R. D. Cook, Technometrics 19 (1977) 15–18). The cell itself stays a candidate.
    /// </remarks>
    public static double Stability(LawChoice choice, CellEstimate[] estimates, CellEstimate chosen, ScoringOptions options)
    {
        LawFit fit = choice.Best;
        List<(int Parameter, double[] Column)> columns = fit.ScaledDerivatives();
        int count = fit.Card.Marked.Count;
        Matrix<double> jacobian = Matrix<double>.Build.DenseOfColumns(columns.Select(column => column.Column));
        Matrix<double> cofactors = jacobian.TransposeThisAndMultiply(jacobian).PseudoInverse();
        double[] residuals = [.. fit.Residuals().Select((r, i) => r / fit.Deviations[i])];
        Shortfall[] shortfalls = fit.Shortfalls();
        // Sorted once: which cells are believable, and how fast, does not hang on the fit's last step.
        (int Index, CellEstimate Estimate)[] fastestFirst = FastestFirst(estimates);
        int same = 0;
        for (int left = 0; left < count; left++)
        {
            Vector<double> row = jacobian.Row(left);
            Vector<double> pull = cofactors * row;
            Vector<double> move = pull * (-residuals[left] / Math.Max(1 - row * pull, 0.05));
            double[] p = fit.Parameters.ToArray();
            for (int k = 0; k < columns.Count; k++) p[columns[k].Parameter] += move[k];
            p = fit.Inside(p);
            LawPoint without = new(fit.Law, p);
            (_, CellEstimate? other) = fastestFirst.FirstOrDefault(cell => IsSure(cell.Estimate, cell.Index, without));
            if (other?.Marked == chosen.Marked) same++;
        }

        return (double)same / count;

        // The other laws stay as they are: the best one's part of the probability moves.
        bool IsSure(CellEstimate estimate, int cell, LawPoint without)
        {
            Shortfall before = shortfalls[cell], after = before with { Value = without.ShortfallAt(cell, before.IsPeaked) };
            double by = Probability(after) - Probability(before);
            return estimate.FullMarkProbability + choice.Laws[0].Weight * by >= options.FullMarkConfidence;
        }

        double Probability(Shortfall shortfall) => shortfall.FullMarkProbability(options.FullMarkShare, fit.EffectiveDegreesOfFreedom);
    }

    private static (int Index, CellEstimate Estimate)[] FastestFirst(CellEstimate[] estimates) =>
        [.. EngraveGoals.FastestFirst(estimates).Select(estimate => (Array.FindIndex(estimates, one => ReferenceEquals(one, estimate)), estimate))];
}
