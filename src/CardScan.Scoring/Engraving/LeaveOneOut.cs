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
    public static double Stability(LawFit fit, CellEstimate[] estimates, CellEstimate chosen, ScoringOptions options)
    {
        List<(int Parameter, double[] Column)> columns = fit.ScaledDerivatives();
        int count = fit.Card.Marked.Count;
        Matrix<double> jacobian = Matrix<double>.Build.DenseOfColumns(columns.Select(column => column.Column));
        Matrix<double> cofactors = jacobian.TransposeThisAndMultiply(jacobian).PseudoInverse();
        double[] residuals = [.. fit.Residuals().Select((r, i) => r / fit.Deviations[i])];
        double[] shares = new double[count];
        int same = 0;
        for (int left = 0; left < count; left++)
        {
            Vector<double> row = jacobian.Row(left);
            Vector<double> pull = cofactors * row;
            Vector<double> move = pull * (-residuals[left] / Math.Max(1 - row * pull, 0.05));
            double[] p = fit.Parameters.ToArray();
            for (int k = 0; k < columns.Count; k++) p[columns[k].Parameter] += move[k];
            p[DoseLaw.Threshold] = Math.Clamp(p[DoseLaw.Threshold], 0, 0.9);
            fit.Law.Shares(p, shares);
            CellEstimate? other = EngraveGoals.Fastest(estimates.Select((estimate, i) => Moved(estimate, shares[i])), options);
            if (other?.Marked == chosen.Marked) same++;
        }

        return (double)same / count;
    }

    private static CellEstimate Moved(CellEstimate estimate, double share)
    {
        double by = share - estimate.Share;
        return estimate with { Share = share, ShareLow = estimate.ShareLow + by, ShareHigh = Math.Min(1, estimate.ShareHigh + by) };
    }
}
