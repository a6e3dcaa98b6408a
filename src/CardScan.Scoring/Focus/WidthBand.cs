using CardScan.Model;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Focus;

/// <summary>The fitted widths over the focus offset with their 95 % band, by first-order propagation.</summary>
internal static class WidthBand
{
    private const int Steps = 48, MostCurves = 3;
    private const double Difference = 1e-4;

    /// <summary>Curves for the lowest, a middle and the highest line energy.</summary>
    public static ValueList<FocusCurve> Of(FocusFit fit)
    {
        double[] energies = [.. fit.Points.Select(point => point.LnEnergy).Distinct().Order()];
        double[] shown = energies.Length <= MostCurves ? energies : [energies[0], energies[energies.Length / 2], energies[^1]];
        double[,]? covariance = Covariance(fit);
        return shown.Select(energy => new FocusCurve(Math.Round(Math.Exp(energy), 6), Points(fit, energy, covariance))).ToValueList();
    }

    private static ValueList<CurvePoint> Points(FocusFit fit, double lnEnergy, double[,]? covariance)
    {
        List<CurvePoint> points = [];
        for (int i = 0; i <= Steps; i++)
        {
            double offset = fit.LowestMm + (fit.HighestMm - fit.LowestMm) * i / Steps;
            double square = fit.Best.SquareAt(offset, lnEnergy);
            if (!(square > 0) || covariance is null) continue;
            double[] gradient = Gradient(fit.Best, offset, lnEnergy);
            double variance = 0;
            for (int a = 0; a < gradient.Length; a++)
                for (int b = 0; b < gradient.Length; b++) variance += gradient[a] * covariance[a, b] * gradient[b];
            double reach = fit.Quantile * Math.Sqrt(variance);
            points.Add(new(Rounded(offset), Rounded(Math.Sqrt(square)), Rounded(Math.Sqrt(Math.Max(0, square - reach))),
                Rounded(Math.Sqrt(square + reach))));
        }

        return points.ToValueList();

        static double Rounded(double mm) => Math.Round(mm, 5);
    }

    /// <summary>Covariance of the parameters, errors as stated; null where the points do not tell them all.</summary>
    private static double[,]? Covariance(FocusFit fit)
    {
        double[][] rows = [.. fit.Points.Select(point =>
            Gradient(fit.Best, point.OffsetMm, point.LnEnergy).Select(slope => slope / point.Error).ToArray())];
        int size = rows[0].Length;
        double[,] normal = new double[size, size];
        for (int a = 0; a < size; a++)
            for (int b = 0; b < size; b++) normal[a, b] = rows.Sum(row => row[a] * row[b]);
        return SmallMatrix.Inverse(normal, out _);
    }

    /// <summary>Slopes of W² in place, ln depth, B, and A where it is not bound.</summary>
    private static double[] Gradient(WidthFit fit, double offsetMm, double lnEnergy)
    {
        BeamShape shape = fit.Shape;
        double moved = Difference * shape.RayleighMm;
        double place = (With(shape with { BestMm = shape.BestMm + moved }) - With(shape)) / moved;
        double depth = (With(shape with { RayleighMm = shape.RayleighMm * (1 + Difference) }) - With(shape)) / Difference;
        double[] common = [place, depth, shape.SquareAt(offsetMm)];
        return fit.A > 0 ? [.. common, shape.LiuTermAt(offsetMm, lnEnergy)] : common;

        double With(BeamShape other) => (fit with { Shape = other }).SquareAt(offsetMm, lnEnergy);
    }
}
