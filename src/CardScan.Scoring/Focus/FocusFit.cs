using CardScan.Model;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Focus;

/// <summary>Focus, depth and size of the beam along one axis, with what else the widths allow.</summary>
/// <remarks>
/// Every place and depth of the focus on a grid is tried, so that no start has to be guessed and the intervals are those of
/// the profiled misfit: all values that some fit reaches whose misfit exceeds the best one's by no more than chance.
/// </remarks>
internal sealed class FocusFit
{
    /// <summary>Fewer different offsets do not show a vertex.</summary>
    public const int FewestOffsets = 4;

    /// <summary>Depths tried, as shares of the ladder's range.</summary>
    private const double LeastDepth = 0.03, MostDepth = 8;

    /// <summary>How far beyond the ladder's ends the focus is looked for, as a share of its range.</summary>
    private const double Beyond = 1;

    private readonly ShapeGrid _grid;
    private readonly double _limit;
    private readonly bool _isOpenBelow, _isOpenAbove;

    private FocusFit(LadderPoint[] points)
    {
        Points = points;
        (LowestMm, HighestMm) = (points.Min(point => point.OffsetMm), points.Max(point => point.OffsetMm));
        bool isGrowing = points.Select(point => point.LnEnergy).Distinct().Count() == 1;
        bool hasLiu = points.Length > 4;
        double range = HighestMm - LowestMm;
        ShapeGrid all = ShapeGrid.Of(LowestMm - Beyond * range, HighestMm + Beyond * range, LeastDepth * range, MostDepth * range, FitOf);
        Freedom = points.Length - (hasLiu ? 4 : 3);
        ShapeGrid close = all.Closer(LimitOver(all.Best.Misfit), FitOf);
        _grid = close.Closer(LimitOver(close.Best.Misfit), FitOf);
        Best = _grid.Best;
        _limit = LimitOver(Best.Misfit);
        (_isOpenBelow, _isOpenAbove) = (_grid.Places[0] <= all.Places[0], _grid.Places[^1] >= all.Places[^1]);

        WidthFit FitOf(BeamShape shape) => WidthFit.To(points, shape, isGrowing, hasLiu);
    }

    /// <summary>The points it was fitted to.</summary>
    public LadderPoint[] Points { get; }

    /// <summary>The best fit.</summary>
    public WidthFit Best { get; }

    /// <summary>Lower end of the ladder, mm.</summary>
    public double LowestMm { get; }

    /// <summary>Upper end of the ladder, mm.</summary>
    public double HighestMm { get; }

    /// <summary>Degrees of freedom.</summary>
    public int Freedom { get; }

    /// <summary>Standard errors, as stated, to one side of a 95 % interval.</summary>
    public double Quantile => Math.Sqrt(_limit - Best.Misfit);

    /// <summary>Probability of so large a misfit if the widths followed the law and their errors.</summary>
    public double MisfitProbability => 1 - ChiSquared.CDF(Freedom, Best.Misfit);

    /// <summary>Fits an axis.</summary>
    /// <returns>The fit, or null where there are too few points.</returns>
    public static FocusFit? To(LadderPoint[] points) =>
        points.Select(point => point.OffsetMm).Distinct().Count() < FewestOffsets ? null : new(points);

    /// <summary>95 % interval of the best offset, mm; an end that the widths do not set is infinite.</summary>
    public (double LowMm, double HighMm) BestInterval()
    {
        (double from, double to) = _grid.Within(_limit);
        return (_isOpenBelow && from <= _grid.Places[0] ? double.NegativeInfinity : from,
            _isOpenAbove && to >= _grid.Places[^1] ? double.PositiveInfinity : to);
    }

    /// <summary>95 % interval of 2w₀², mm²; from 0 on, or without an upper end, where the widths do not tell it.</summary>
    public (double Low, double High) AInterval()
    {
        (double low, double high) = (Best.A, Best.A);
        foreach (WidthFit fit in _grid.Fits)
        {
            if (fit.Misfit > _limit) continue;
            double reach = double.IsFinite(fit.VarianceA) ? Math.Sqrt(fit.VarianceA * (_limit - fit.Misfit)) : double.PositiveInfinity;
            (low, high) = (Math.Min(low, fit.A - reach), Math.Max(high, fit.A + reach));
        }

        return (Math.Max(0, low), high);
    }

    /// <summary>
    /// The largest misfit that chance explains. Where the points scatter no more than their errors say, those are known; else
    /// how large they are is itself judged from the points.
    /// </summary>
    private double LimitOver(double misfit)
    {
        double over = misfit / Freedom;
        double quantile = over <= 1 ? NormalQuantile.TwoSided95 : StudentT.InvCDF(0, 1, Freedom, 0.975) * Math.Sqrt(over);
        return misfit + quantile * quantile;
    }
}
