using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>The tone curve of a phone by photos of one card that differ in brightness.</summary>
/// <remarks>
/// What sends the same light to the lens in two photos differs in their codes by the exposures alone: of g(b) − g(a) = ln (ratio of
/// exposures) the curve g is sought that holds for all cells, their bare material and all colours (P. E. Debevec, J. Malik,
/// "Recovering High Dynamic Range Radiance Maps from Photographs", SIGGRAPH 1997; T. Mitsunaga, S. K. Nayar, "Radiometric Self
/// Calibration", CVPR 1999). All of it is linear. Where the files do not tell the exposures, every power of a curve explains the
/// photos as well, and the curve's spread from phone to phone decides. See docs/method/series.md.
/// </remarks>
internal sealed class ExposureSeries
{
    /// <summary>Photos that differ by less in brightness tell nothing of a curve, natural log: two thirds of a stop.</summary>
    private const double LeastApart = 0.45;

    /// <summary>
    /// How far the terms of curves differ from phone to phone, standard deviations (no source; that of degree 1 stretches the
    /// darkness of a usual mark by <see cref="PhotoQuality.UsualDarknessScaleError"/>).
    /// </summary>
    internal static readonly double[] Spread = [0.3, 0.2, 0.12, 0.07, 0.04];

    /// <summary>How well the ratio of two exposures is known where the files tell them, natural log (no source), and where not.</summary>
    private const double KnownRatio = 0.03, UnknownRatio = 3;

    /// <summary>
    /// The light of two photos may differ over the card by this for each term of a quadratic: lens, place of the phone and of
    /// whoever stands there; natural log (no source).
    /// </summary>
    private const double LightChange = 0.05;

    /// <summary>Codes below the first are mostly noise, and at the second some pixels are at the top of the scale; 0 to 1.</summary>
    private const double LeastCode = 0.04, MostCode = 0.92;

    /// <summary>No curve of five terms fits better than this, natural log …</summary>
    internal const double LeastMisfit = 0.012;

    /// <summary>… and where it fits worse than this, the photos have no curve in common.</summary>
    internal const double MostMisfit = 0.035;

    /// <summary>A ratio of exposures or a curve that lies this many standard deviations from what was expected is not believed.</summary>
    internal const double MostSurprise = 4;

    /// <summary>Light that differs more over the card than this, natural log, was moved between the photos.</summary>
    private const double MostLightChange = 0.3;

    /// <summary>
    /// What misfits is smooth along the curve, so that the cells of a pair tell no more than this many independent ones would.
    /// </summary>
    internal const double IndependentTones = 10;

    private const int FewestTones = 30, LightTerms = 5, Rounds = 8;

    private readonly ToneEvidence[] _photos;
    private readonly List<Tone> _tones = [];

    private ExposureSeries(IEnumerable<ToneEvidence> photos)
    {
        _photos = [.. photos.OrderBy(photo => photo.Level)];
        for (int pair = 0; pair + 1 < _photos.Length; pair++) AddPair(pair);
    }

    private int Unknowns => CameraResponse.Terms + (_photos.Length - 1) * (1 + LightTerms);

    /// <summary>Finds the curve.</summary>
    /// <param name="photos">What photos of one card by one phone tell.</param>
    /// <returns>
    /// The curve; a warning where there is a series that has none; neither where the photos are too much alike to tell.
    /// </returns>
    public static (CameraResponse? Response, Warning? Doubt) Find(IReadOnlyList<ToneEvidence> photos)
    {
        if (photos.Count < 2 || !(photos.Max(photo => photo.Level) - photos.Min(photo => photo.Level) >= LeastApart)) return default;
        ExposureSeries series = new(photos);
        return series._tones.Count < FewestTones ? default : series.Solve();
    }

    private void AddPair(int pair)
    {
        ToneEvidence dark = _photos[pair], bright = _photos[pair + 1];
        foreach ((CellTone? first, CellTone? second) in dark.Tones.Zip(bright.Tones))
        {
            if (first is not { } a || second is not { } b) continue;
            double[] light = LightBasis(a.At, dark.Card);
            foreach ((double low, double high) in Channels(a.Mark, b.Mark).Concat(Channels(a.Bare, b.Bare)))
            {
                double lowCode = SrgbCurve.Code(low), highCode = SrgbCurve.Code(high);
                if (lowCode < LeastCode || highCode < LeastCode || lowCode > MostCode || highCode > MostCode) continue;
                double[] row = new double[Unknowns];
                (double[] from, double[] to) = (CameraResponse.Basis(lowCode), CameraResponse.Basis(highCode));
                for (int i = 0; i < CameraResponse.Terms; i++) row[i] = to[i] - from[i];
                row[RatioAt(pair)] = -1;
                for (int i = 0; i < LightTerms; i++) row[RatioAt(pair) + 1 + i] = -light[i];
                _tones.Add(new(row, Math.Log(low / high)));
            }
        }
    }

    private (CameraResponse? Response, Warning? Doubt) Solve()
    {
        Tone[] priors = [.. Priors()];
        double[][] rows = [.. _tones.Select(tone => tone.Row), .. priors.Select(prior => prior.Row)];
        double[] targets = [.. _tones.Select(tone => tone.Target), .. priors.Select(prior => prior.Target)];
        double[] weights = [.. Enumerable.Repeat(1.0, rows.Length)], plain = [.. Enumerable.Repeat(1.0, _tones.Count)], solution = [];
        double misfit = MostMisfit, alike = Math.Max(1, _tones.Count / (IndependentTones * (_photos.Length - 1)));
        for (int round = 0; round < Rounds; round++)
        {
            for (int i = 0; i < plain.Length; i++) weights[i] = plain[i] / (misfit * misfit * alike);
            solution = LeastSquares.SolveWeighted(rows, targets, weights);
            double[] misses = [.. _tones.Select(tone => tone.MissOf(solution))];
            misfit = Math.Max(Robust.Deviation(misses), LeastMisfit);
            for (int i = 0; i < plain.Length; i++) plain[i] = Robust.Biweight(misses[i], Robust.UsualReach * misfit);
        }

        if (misfit > MostMisfit)
        {
            double change = Enumerable.Range(0, _photos.Length - 1).Max(LightChangeIn);
            return (null, change > MostLightChange ? NoCurve("light", change) : NoCurve("curve", misfit));
        }

        if (priors.Max(prior => Math.Abs(prior.MissOf(solution))) > MostSurprise) return (null, NoCurve("exposure", misfit));
        int[] terms = [.. Enumerable.Range(0, CameraResponse.Terms)];
        CameraResponse response = new(solution[..CameraResponse.Terms], LeastSquares.CovarianceOf(rows, weights, terms));
        return response.Rises ? (response, null) : (null, NoCurve("curve", misfit));
    }

    private static Warning NoCurve(string why, double misfit) =>
        new(Codes.SeriesNoCurve, ("why", why), ("misfit", Share(Math.Exp(misfit) - 1)));

    /// <summary>What is known before the photos are looked at, each in units of its standard deviation.</summary>
    private IEnumerable<Tone> Priors()
    {
        for (int i = 0; i < CameraResponse.Terms; i++) yield return Prior(i, 0, Spread[i]);
        for (int pair = 0; pair + 1 < _photos.Length; pair++)
        {
            ToneEvidence dark = _photos[pair], bright = _photos[pair + 1];
            yield return bright.Shot.Exposure?.Ln - dark.Shot.Exposure?.Ln is { } ratio
                ? Prior(RatioAt(pair), ratio, KnownRatio)
                : Prior(RatioAt(pair), bright.Level - dark.Level, UnknownRatio);
            for (int i = 1; i <= LightTerms; i++) yield return Prior(RatioAt(pair) + i, 0, LightChange);
        }

        Tone Prior(int unknown, double value, double deviation)
        {
            double[] row = new double[Unknowns];
            row[unknown] = 1 / deviation;
            return new(row, value / deviation);
        }
    }

    /// <summary>How much the ratio of a pair's codes on bare material differs over the card, natural log.</summary>
    private double LightChangeIn(int pair)
    {
        (CellTone Dark, CellTone Bright)[] cells = [.. _photos[pair].Tones.Zip(_photos[pair + 1].Tones)
            .Where(both => both is { First: not null, Second: not null }).Select(both => (both.First!.Value, both.Second!.Value))];
        double[][] rows = [.. cells.Select(cell => (double[])[1, .. LightBasis(cell.Dark.At, _photos[pair].Card)])];
        double[] ratios = [.. cells.Select(cell => Math.Log(Math.Max(cell.Bright.Bare.G, 1e-5) / Math.Max(cell.Dark.Bare.G, 1e-5)))];
        double[] weights = [.. ratios.Select(_ => 1.0)], field = LeastSquares.SolveWeighted(rows, ratios, weights);
        double[] changes = [.. rows.Select(row => row.Zip(field, (a, b) => a * b).Sum())];
        return changes.Max() - changes.Min();
    }

    private static int RatioAt(int pair) => CameraResponse.Terms + pair * (1 + LightTerms);

    private static IEnumerable<(double Low, double High)> Channels(LinearRgb low, LinearRgb high) =>
        [(low.R, high.R), (low.G, high.G), (low.B, high.B)];

    private static double[] LightBasis(PlanePoint at, CardSize card)
    {
        double x = 2 * at.X / card.WidthMm - 1, y = 2 * at.Y / card.HeightMm - 1;
        return [x, y, x * x, x * y, y * y];
    }

    /// <summary>One equation: the row of the unknowns, and what it should give.</summary>
    private sealed record Tone(double[] Row, double Target)
    {
        public double MissOf(double[] solution) => Row.Zip(solution, (a, b) => a * b).Sum() - Target;
    }
}
