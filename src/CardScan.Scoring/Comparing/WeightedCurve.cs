using CardScan.Scoring.Engraving;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Comparing;

/// <summary>The saturating curve fitted to one card alone: what its cells' deviations are, and where a common fit starts.</summary>
/// <param name="Parameters">Those of <see cref="SaturatingCurve"/>.</param>
/// <param name="Deviations">Standard deviation of each cell's strength: stated error and the card's own chance together.</param>
/// <param name="ResidualShare">RMS of the residuals over the strongest mark fitted.</param>
internal sealed record WeightedCurve(double[] Parameters, double[] Deviations, double ResidualShare)
{
    /// <summary>Part of the strongest mark whose chance even the faintest cell has, as in the scoring of one card.</summary>
    private const double FaintChance = 0.15;

    private const double SmallestDeviation = 1e-5;
    private const int Rounds = 5;

    /// <summary>Precision of the rounds before the last: where they end, the next one begins.</summary>
    private const double RoundPrecision = 1e-9;

    /// <summary>Fits; null where the cells do not carry the curve.</summary>
    /// <param name="cells">Used cells of one card.</param>
    /// <param name="lnDoses">ln dose of each, relative to the reference dose.</param>
    /// <param name="lnSpeeds">ln speed of each, over the middle speed.</param>
    /// <param name="box">Range of the parameters.</param>
    public static WeightedCurve? Fit(IReadOnlyList<MarkedCell> cells, double[] lnDoses, double[] lnSpeeds, CurveBox box)
    {
        int freedom = cells.Count - box.Free.Length;
        if (freedom < 2) return null;
        double[] deviations = [.. cells.Select(_ => 1.0)];
        double[]? p = SaturatingCurve.StartsFor(cells.Max(cell => cell.Strength), lnDoses.Max())
            .OrderBy(start => FittedAt(start).Zip(cells, (y, cell) => Math.Pow(cell.Strength - y, 2)).Sum()).Take(2)
            .Select(start => Minimised(start, RoundPrecision)).Where(fit => fit.Stop != FitStop.NotFinite)
            .MinBy(fit => fit.SumOfSquares)?.Parameters.ToArray();
        for (int round = 0; p is not null && round < Rounds; round++)
        {
            deviations = DeviationsAt(p);
            p = Minimised(p, round < Rounds - 1 ? RoundPrecision : NonlinearFit.Finest).Parameters.ToArray();
        }

        if (p is null) return null;
        double[] fitted = FittedAt(p);
        double rms = Math.Sqrt(cells.Zip(fitted, (cell, y) => Math.Pow(cell.Strength - y, 2)).Average());
        return new(p, DeviationsAt(p), rms / Math.Max(fitted.Max(), 1e-6));

        NonlinearFit Minimised(double[] start, double precision) => NonlinearFit.Minimise(
            (at, residuals) =>
            {
                for (int i = 0; i < residuals.Length; i++)
                    residuals[i] = (cells[i].Strength - SaturatingCurve.At(at, lnDoses[i], lnSpeeds[i])) / deviations[i];
            },
            cells.Count, start, box.Lower, box.Upper, precision);

        double[] FittedAt(double[] at) => [.. lnDoses.Select((lnDose, i) => SaturatingCurve.At(at, lnDose, lnSpeeds[i]))];

        double[] DeviationsAt(double[] at)
        {
            double[] y = FittedAt(at);
            double faint = FaintChance * y.Max();
            double[] errors = [.. cells.Select((cell, i) => cell.ErrorAt(y[i]))];
            double[] scales = [.. y.Select(strength => Math.Sqrt(strength * strength + faint * faint) + 1e-9)];
            double[] residuals = [.. cells.Select((cell, i) => cell.Strength - y[i])];
            double extra = Overdispersion.Estimate(residuals, errors, scales, freedom);
            return [.. errors.Select((error, i) => Math.Max(Math.Sqrt(error * error + Math.Pow(extra * scales[i], 2)), SmallestDeviation))];
        }
    }
}
