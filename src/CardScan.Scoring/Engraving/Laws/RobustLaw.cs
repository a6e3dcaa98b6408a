using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Engraving;

/// <summary>A fit of the law that a few spoiled cells cannot bend; it starts the weighted fit and points at the suspects.</summary>
/// <remarks>Tukey's biweight by reweighting, from the best of several starts, with the scale of the median residual.</remarks>
internal sealed class RobustLaw
{
    private const double TukeyConstant = 4.685;   // 95 % efficiency under normal chance
    private const double SuspectDeviations = 4;
    private const double NormalMedian = 1.4826;   // deviation over median size, normal chance
    private const int Rounds = 6;
    private const int ManyCells = 100;            // so many tell the best start at once
    private const double SettledChange = 0.02;
    private const int PlainStarts = 6;
    private const double UsualChance = 0.02;      // against what is known of the parameters, in mark strength
    private const double Precision = 1e-3;        // a start need not be exact

    private readonly EngravedCard _card;
    private readonly LawBox _box;
    private readonly DoseLaw _law;
    private readonly double[] _scales;
    private readonly double[] _residuals;

    private RobustLaw(EngravedCard card, DoseLaw law, LawBox box)
    {
        (_card, _box, _law) = (card, box, law);
        _scales = [.. card.Marked.Select(cell => cell.ChanceScale)];
        _residuals = new double[card.Marked.Count];
    }

    /// <summary>
    /// The parameters, the scale of the residuals, and the cells that stand out and may be accidents: none where they are too many.
    /// </summary>
    public static (double[] Parameters, double Scale, List<MarkedCell> Accidents) Fit(EngravedCard card, DoseLaw law, LawBox box)
    {
        RobustLaw robust = new(card, law, box);
        double[] best = robust.Starts().OrderBy(robust.ScaleAt)
            .Take(card.Marked.Count < ManyCells ? 2 : 1).Select(robust.Reweighted).MinBy(robust.ScaleAt)!;
        return (best, robust.ScaleAt(best), robust.AccidentsAt(best));
    }

    /// <summary>Plain least squares: where a fit starts that may not pass over the cells that stand out.</summary>
    public static double[] LeastSquares(EngravedCard card, DoseLaw law, LawBox box)
    {
        RobustLaw plain = new(card, law, box);
        double[] deviations = [.. plain._scales.Select(scale => scale * UsualChance)];
        return plain.Starts().OrderBy(start => plain.SizesAt(start).Sum(size => size * size)).Take(PlainStarts)
            .Select(start =>
                NonlinearFit.Minimise(law.Residuals(card, deviations), law.RowsFor(card), start, box.Lower, box.Upper, Precision))
            .MinBy(fit => fit.SumOfSquares)!.Parameters.ToArray();
    }

    private double[] Reweighted(double[] start)
    {
        double[] p = start;
        double last = 0;
        for (int round = 0; round < Rounds; round++)
        {
            double scale = ScaleAt(p);
            if (Math.Abs(scale - last) < SettledChange * scale) break;
            last = scale;
            double[] deviations = [.. _residuals.Select((r, i) => scale * _scales[i] / Math.Max(TukeyRootWeight(r / scale), 1e-4))];
            NonlinearFit fit =
                NonlinearFit.Minimise(_law.Residuals(_card, deviations), _law.RowsFor(_card), p, _box.Lower, _box.Upper, Precision);
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

    /// <summary>Starting points over the range of shapes, the amplitude of each by linear least squares.</summary>
    private IEnumerable<double[]> Starts()
    {
        double[] strengths = new double[_residuals.Length];
        foreach (double[] shape in _law.Curve.Starts)
        {
            double[] p = new double[_law.ParameterCount];
            (p[DoseLaw.Amplitude], p[DoseLaw.SpeedExponent]) = (1, 1);
            shape.CopyTo(p, _law.FirstShape);
            p = _box.Clamp(p);
            _law.Strengths(p, strengths);
            double cross = strengths.Zip(_card.Marked, (strength, cell) => strength * cell.Strength).Sum();
            p[DoseLaw.Amplitude] = Math.Max(cross / Math.Max(strengths.Sum(strength => strength * strength), 1e-12), 1e-6);
            yield return p;
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
        double[] sizes = [.. _residuals.Select(Math.Abs)];
        Array.Sort(sizes);
        return sizes;
    }

    private List<MarkedCell> AccidentsAt(double[] p)
    {
        double[] sizes = SizesAt(p);
        double scale = Math.Max(NormalMedian * sizes[sizes.Length / 2], LawFitter.SmallestDeviation);
        List<Suspect> suspects = [.. _card.Marked.Select((cell, i) => new Suspect(cell, _residuals[i] * _scales[i]))
            .Where((suspect, i) => Math.Abs(_residuals[i]) > SuspectDeviations * Math.Max(scale, suspect.Cell.StandardError / _scales[i]))];
        if (suspects.Count == 0 || suspects.Count > Math.Max(1, _card.Marked.Count / 10)) return [];
        Dictionary<MarkedCell, double> residuals = _card.Marked.Index()
            .ToDictionary(pair => pair.Item, pair => _residuals[pair.Index] * _scales[pair.Index]);
        return Accidents.Among(suspects, _card, cell => residuals[cell]);
    }
}
