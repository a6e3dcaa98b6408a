using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving;

/// <summary>A fit of the law that a few spoiled cells cannot bend; it starts the weighted fit and points at the suspects.</summary>
/// <remarks>Tukey's biweight by reweighting, from the best of several starts, with the scale of the median residual.</remarks>
internal sealed class RobustLaw
{
    private const double TukeyConstant = 4.685;   // 95 % efficiency under normal chance
    private const double SuspectDeviations = 4;
    private const double NormalMedian = 1.4826;   // deviation over median size, normal chance
    private const int Rounds = 8;

    private static readonly double[] SteepnessStarts = [0.7, 2.5, 8, 25];
    private static readonly double[] ShapeStarts = [1, 2];

    private readonly EngravedCard _card;
    private readonly LawBox _box;
    private readonly DoseLaw _law;
    private readonly double[] _scales;
    private readonly double[] _residuals;

    private RobustLaw(EngravedCard card, LawBox box)
    {
        (_card, _box, _law) = (card, box, new(card));
        _scales = [.. card.Marked.Select(cell => cell.ChanceScale)];
        _residuals = new double[card.Marked.Count];
    }

    /// <summary>The parameters, and the cells that stand out: none where they are too many to be accidents.</summary>
    public static (double[] Parameters, List<MarkedCell> Suspects) Fit(EngravedCard card, LawBox box)
    {
        RobustLaw robust = new(card, box);
        double[] best = robust.Starts().OrderBy(robust.ScaleAt).Take(2).Select(robust.Reweighted).MinBy(robust.ScaleAt)!;
        return (best, robust.SuspectsAt(best));
    }

    private double[] Reweighted(double[] start)
    {
        double[] p = start;
        for (int round = 0; round < Rounds; round++)
        {
            double scale = ScaleAt(p);
            double[] deviations = [.. _residuals.Select((r, i) => _scales[i] / Math.Max(TukeyRootWeight(r / scale), 1e-4))];
            NonlinearFit fit = NonlinearFit.Minimise(_law.Residuals(_card, deviations), _residuals.Length, p, _box.Lower, _box.Upper);
            if (fit.Stop == FitStop.NotFinite) break;
            p = fit.Parameters.ToArray();
        }

        return p;
    }

    private static double TukeyRootWeight(double deviations)
    {
        double t = deviations / TukeyConstant;
        return Math.Abs(t) < 1 ? 1 - t * t : 0;
    }

    /// <summary>Starting points over the range of shapes, the strongest mark of each by linear least squares.</summary>
    private IEnumerable<double[]> Starts()
    {
        double[] shares = new double[_residuals.Length];
        foreach (double steepness in SteepnessStarts)
        {
            foreach (double shape in ShapeStarts)
            {
                double[] p = new double[_law.ParameterCount];
                (p[DoseLaw.LnSteepness], p[DoseLaw.LnShape], p[DoseLaw.SpeedExponent]) = (Math.Log(steepness), Math.Log(shape), 1);
                p[DoseLaw.Threshold] = 0.005;   // off its bound, where it could not tell which way to go
                p = _box.Clamp(p);
                _law.Shares(p, shares);
                double cross = shares.Zip(_card.Marked, (share, cell) => share * cell.Strength).Sum();
                p[DoseLaw.Strongest] = Math.Max(cross / Math.Max(shares.Sum(share => share * share), 1e-12), 1e-6);
                yield return p;
            }
        }
    }

    private double ScaleAt(double[] p)
    {
        double[] sizes = SizesAt(p);
        // The median of the residuals that are not fitted away: as many small ones as parameters say nothing.
        int median = Math.Min(sizes.Length - 1, (sizes.Length + _box.FreeCount) / 2);
        return Math.Max(NormalMedian * sizes[median], LawFitter.SmallestDeviation);
    }

    private double[] SizesAt(double[] p)
    {
        _law.Residuals(_card, _scales)(p, _residuals);
        return [.. _residuals.Select(Math.Abs).Order()];
    }

    private List<MarkedCell> SuspectsAt(double[] p)
    {
        double[] sizes = SizesAt(p);
        double scale = Math.Max(NormalMedian * sizes[sizes.Length / 2], LawFitter.SmallestDeviation);
        List<MarkedCell> suspects = [.. _card.Marked.Where((cell, i) =>
            Math.Abs(_residuals[i]) > SuspectDeviations * Math.Max(scale, cell.StandardError / cell.ChanceScale))];
        return suspects.Count <= Math.Max(1, _card.Marked.Count / 10) ? suspects : [];
    }
}
