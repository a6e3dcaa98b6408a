using CardScan.Scoring.Fitting;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving;

/// <summary>Whether the residuals still hold a pattern over speed and power that the law does not describe.</summary>
/// <param name="Probability">Probability of a pattern this strong by chance alone; null where too few cells are left to tell.</param>
/// <param name="PatternDeviation">RMS size of the pattern, in mark strength.</param>
/// <remarks>
/// A card burns each setting once, so there is no pure error to compare with. Instead the residuals are regressed on
/// smooth terms in ln dose and ln speed, made orthogonal to the law's own derivatives, and the gain is put to an F test.
/// </remarks>
internal sealed record LackOfFit(double? Probability, double PatternDeviation)
{
    public static LackOfFit Of(LawFit fit)
    {
        int count = fit.Card.Marked.Count;
        double[] residuals = [.. fit.Residuals().Select((r, i) => r / fit.Deviations[i])];
        List<double[]> known = [.. fit.ScaledDerivatives().Select(pair => pair.Column)];
        Orthonormalise(known);

        List<double[]> basis = [.. known];
        double gain = 0;
        int terms = 0;
        double[] pattern = new double[count];
        foreach (double[] term in SmoothTerms(fit))
        {
            double before = Norm(term);
            Reduce(term, basis);
            double after = Norm(term);
            if (after < 1e-3 * before || basis.Count >= count - 2) continue;
            for (int i = 0; i < count; i++) term[i] /= after;
            double along = Vectors.Dot(term, residuals);
            for (int i = 0; i < count; i++) pattern[i] += along * term[i] * fit.Deviations[i];
            gain += along * along;
            terms++;
            basis.Add(term);
        }

        double left = fit.DegreesOfFreedom - terms;
        double rest = Vectors.Dot(residuals, residuals) - gain;
        double size = Math.Sqrt(Vectors.Dot(pattern, pattern) / count);
        if (terms == 0 || left < 3 || !(rest > 0)) return new(null, size);
        double f = gain / terms / (rest / left);
        return new(1 - FisherSnedecor.CDF(terms, left, f), size);
    }

    private static IEnumerable<double[]> SmoothTerms(LawFit fit)
    {
        double[] dose = Standardised([.. fit.Card.Marked.Select(cell => cell.Cell.LnDose)]);
        double[] speed = Standardised([.. fit.Card.Marked.Select(cell => cell.Cell.LnSpeed)]);
        Func<double, double, double>[] terms =
            [(_, _) => 1, (x, _) => x, (x, _) => x * x, (x, _) => x * x * x, (_, v) => v, (x, v) => x * v, (_, v) => v * v];
        foreach (Func<double, double, double> term in terms)
            yield return [.. dose.Select((x, i) => term(x, speed[i]) / fit.Deviations[i])];
    }

    private static double[] Standardised(double[] values)
    {
        double mean = values.Average();
        double spread = Math.Sqrt(values.Average(value => (value - mean) * (value - mean)));
        return [.. values.Select(value => spread > 0 ? (value - mean) / spread : 0)];
    }

    private static void Orthonormalise(List<double[]> columns)
    {
        List<double[]> done = [];
        foreach (double[] column in columns)
        {
            double before = Norm(column);
            Reduce(column, done);
            double after = Norm(column);
            if (after <= 1e-9 * before) continue;
            for (int i = 0; i < column.Length; i++) column[i] /= after;
            done.Add(column);
        }

        columns.Clear();
        columns.AddRange(done);
    }

    private static void Reduce(double[] column, List<double[]> orthonormal)
    {
        // Twice is enough (Parlett's rule): once leaves rounding along the removed directions.
        for (int pass = 0; pass < 2; pass++)
        {
            foreach (double[] other in orthonormal) Vectors.AddScaled(column, -Vectors.Dot(column, other), other);
        }
    }

    private static double Norm(double[] a) => Math.Sqrt(Vectors.Dot(a, a));
}
