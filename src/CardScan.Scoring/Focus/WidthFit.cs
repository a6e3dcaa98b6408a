namespace CardScan.Scoring.Focus;

/// <summary>Best A and B of a <see cref="BeamShape"/>, weighted least squares.</summary>
/// <param name="Shape">The shape.</param>
/// <param name="A">2w₀², mm²; 0 where the points do not tell it.</param>
/// <param name="B">The other coefficient, mm².</param>
/// <param name="VarianceA">Variance of A at this shape, errors as stated; infinite where A is bound.</param>
/// <param name="Misfit">Sum of squared residuals over their errors.</param>
internal readonly record struct WidthFit(BeamShape Shape, double A, double B, double VarianceA, double Misfit)
{
    /// <summary>Fits the two coefficients.</summary>
    /// <param name="points">The points.</param>
    /// <param name="shape">The shape.</param>
    /// <param name="isGrowing">
    /// True to keep to lines that grow wider as the beam does. With one line energy nothing else tells an underexposed line,
    /// which vanishes away from the focus, from a line that nears the focus.
    /// </param>
    /// <param name="hasLiu">False to leave A out.</param>
    public static WidthFit To(LadderPoint[] points, BeamShape shape, bool isGrowing, bool hasLiu)
    {
        // W² grows with w while ln E − ln g + B/A is at least 1/2: B = A·shift + D with D ≥ 0.
        double shift = isGrowing ? 0.5 - points.Min(point => point.LnEnergy - 0.5 * Math.Log(shape.SquareAt(point.OffsetMm))) : 0;
        double aa = 0, ad = 0, dd = 0, ay = 0, dy = 0, yy = 0;
        foreach (LadderPoint point in points)
        {
            double square = shape.SquareAt(point.OffsetMm) / point.Error,
                liu = shape.LiuTermAt(point.OffsetMm, point.LnEnergy) / point.Error + shift * square, y = point.Square / point.Error;
            (aa, ad, dd, ay, dy, yy) = (aa + liu * liu, ad + liu * square, dd + square * square, ay + liu * y, dy + square * y, yy + y * y);
        }

        double determinant = aa * dd - ad * ad;
        (double a, double d, double variance) = hasLiu && determinant > 1e-12 * aa * dd
            ? ((ay * dd - dy * ad) / determinant, (dy * aa - ay * ad) / determinant, dd / determinant)
            : (0, dy / dd, double.PositiveInfinity);
        if (a < 0) (a, d, variance) = (0, dy / dd, double.PositiveInfinity);
        else if (isGrowing && d < 0) (a, d, variance) = (Math.Max(0, ay / aa), 0, 1 / aa);
        return new(shape, a, d + a * shift, variance, Math.Max(0, yy - 2 * (a * ay + d * dy) + a * a * aa + 2 * a * d * ad + d * d * dd));
    }

    /// <summary>Square of the width, mm²; not above 0 where there is no line.</summary>
    public double SquareAt(double offsetMm, double lnEnergy) => A * Shape.LiuTermAt(offsetMm, lnEnergy) + B * Shape.SquareAt(offsetMm);
}
