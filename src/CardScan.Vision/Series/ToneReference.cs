using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>
/// The tone curve of a photo by a card in it whose darkness is known: a series of photos told it once, or an earlier photo is taken for
/// the scale.
/// </summary>
/// <remarks>
/// Of −D ln 10 = ln (mark / bare), each the luminance of its channels' undone codes, the terms θ are sought by Gauss–Newton. What the
/// known darkness is off by as a whole drops out between photos of the same scale, so it is not sought. Errors and limits are those of
/// a series; see docs/method/series.md, "A card that is known".
/// </remarks>
internal static class ToneReference
{
    /// <summary>Codes below the first are mostly noise, and at the second some pixels are at the top of the scale; 0 to 1.</summary>
    private const double LeastCode = 0.04, MostCode = 0.98;

    /// <summary>Fewer cells, or less between the faintest and the darkest, tell no curve.</summary>
    private const int FewestCells = 6;

    private const double LeastSpan = 0.3;

    private const int Rounds = 8;

    /// <summary>Finds the curve.</summary>
    /// <param name="seen">The card in the photo, measured without a curve.</param>
    /// <param name="known">A reading of the card whose photos told their curve, or of one photo whose tones are taken for a scale.</param>
    /// <returns>
    /// The curve; a warning where the card does not look as it did; neither where its cells tell too little.
    /// </returns>
    public static (CameraResponse? Response, Warning? Doubt) Find(CardView seen, Reading known)
    {
        KnownMark[] marks = [.. MarksIn(seen, known)];
        if (marks.Length < FewestCells || marks.Max(mark => mark.Darkness) - marks.Min(mark => mark.Darkness) < LeastSpan) return default;
        double[] solution = new double[CameraResponse.Terms], weights = [];
        bool isKnown = known.Photos.All(photo => photo.Response is not null);
        double[][] rows = [], priors = Priors(isKnown ? 1 : Math.Sqrt(2));
        double misfit = ExposureSeries.MostMisfit, alike = Math.Max(1, marks.Length / ExposureSeries.IndependentTones);
        for (int round = 0; round < Rounds; round++)
        {
            CameraResponse guess = With(solution);
            double[] misses = [.. marks.Select(mark => mark.MissBy(guess))];
            misfit = Math.Max(Robust.Deviation(misses), ExposureSeries.LeastMisfit);
            double reach = Robust.UsualReach * misfit;
            rows = [.. marks.Select(mark => mark.RowAt(guess)), .. priors];
            weights = [.. marks.Select((mark, i) => Robust.Biweight(misses[i], reach) / ((mark.Variance + misfit * misfit) * alike)),
                .. Enumerable.Repeat(1.0, solution.Length)];
            double[] targets = [.. misses, .. priors.Select((prior, i) => -prior[i] * solution[i])];
            double[] step = LeastSquares.SolveWeighted(rows, targets, weights);
            for (int i = 0; i < solution.Length; i++) solution[i] += step[i];
        }

        CameraResponse found = new(solution, LeastSquares.CovarianceOf(rows, weights, [.. Enumerable.Range(0, CameraResponse.Terms)]),
            PhotoResponse.Card, card: known.Plan.Number, scale: ScaleOf(known, isKnown));
        return misfit > ExposureSeries.MostMisfit || !found.Rises
            ? (null, new(Codes.ReferenceMisfit, ("card", known.Plan.Number), ("misfit", Share(Math.Exp(misfit) - 1))))
            : (found, null);
    }

    /// <summary>What the card's darkness is known by, with the error that it has itself; that of the curve is to be added.</summary>
    private static PhotoScale ScaleOf(Reading known, bool isKnown) => new(known.Photos[0].Sha256, 0,
        known.Photos.Max(photo => photo.Quality?.DarknessScaleError) ?? PhotoQuality.UsualDarknessScaleError, isKnown);

    private static CameraResponse With(double[] solution) =>
        new(solution, new double[CameraResponse.Terms, CameraResponse.Terms], PhotoResponse.Card);

    /// <param name="curves">How much wider the terms spread than those of one curve: of the difference of two, √2.</param>
    private static double[][] Priors(double curves) => [.. ExposureSeries.Spread.Select((spread, i) =>
    {
        double[] row = new double[CameraResponse.Terms];
        row[i] = 1 / (curves * spread);
        return row;
    })];

    private static IEnumerable<KnownMark> MarksIn(CardView seen, Reading known)
    {
        Dictionary<(int, int), CellReading> cells = known.Cells.ToDictionary(cell => (cell.Row, cell.Column));
        foreach ((CellReading now, CellTone? tone) in seen.Cells.Zip(seen.Tones?.Tones ?? []))
        {
            if (tone is not { } light || !IsUsable(now) || !cells.TryGetValue((now.Row, now.Column), out CellReading? then)) continue;
            KnownMark mark = new(light, then);
            if (IsUsable(then) && mark.Codes.All(code => code is > LeastCode and < MostCode)) yield return mark;
        }
    }

    private static bool IsUsable(CellReading cell) => cell.Darkness is not null && !cell.Flags.Any(CellFlag.IsDisqualifying);

    /// <summary>A cell with its light in the photo and its known darkness.</summary>
    private sealed class KnownMark(CellTone light, CellReading known)
    {
        public double Darkness => known.Darkness!.Value;

        /// <summary>Of the known darkness, natural log.</summary>
        public double Variance => Math.Pow(known.Darkness!.StandardError * Math.Log(10), 2);

        public IEnumerable<double> Codes => Channels(light.Mark).Concat(Channels(light.Bare)).Select(SrgbCurve.Code);

        /// <summary>What a curve leaves between the known darkness and the photo's, natural log.</summary>
        public double MissBy(CameraResponse curve) =>
            -Darkness * Math.Log(10) - Math.Log(Undone(light.Mark, curve).Luminance / Undone(light.Bare, curve).Luminance);

        /// <summary>How the right side of that grows with the terms.</summary>
        public double[] RowAt(CameraResponse curve)
        {
            double[] mark = SlopesOf(light.Mark, curve), bare = SlopesOf(light.Bare, curve);
            return [.. mark.Zip(bare, (a, b) => a - b)];
        }

        /// <summary>How ln luminance grows with each term: what each channel's code does, by its share of the luminance.</summary>
        private static double[] SlopesOf(LinearRgb seen, CameraResponse curve)
        {
            LinearRgb light = Undone(seen, curve);
            (double Share, double Code)[] channels =
            [
                (new LinearRgb(light.R, 0, 0).Luminance / light.Luminance, SrgbCurve.Code(seen.R)),
                (new LinearRgb(0, light.G, 0).Luminance / light.Luminance, SrgbCurve.Code(seen.G)),
                (new LinearRgb(0, 0, light.B).Luminance / light.Luminance, SrgbCurve.Code(seen.B)),
            ];
            double[] top = CameraResponse.Basis(1), slopes = new double[CameraResponse.Terms];
            foreach ((double share, double code) in channels)
            {
                double[] basis = CameraResponse.Basis(code);
                for (int i = 0; i < slopes.Length; i++) slopes[i] += share * (basis[i] - top[i]);
            }

            return slopes;
        }

        private static LinearRgb Undone(LinearRgb seen, CameraResponse curve) =>
            new(curve.Undo(seen.R), curve.Undo(seen.G), curve.Undo(seen.B));

        private static double[] Channels(LinearRgb light) => [light.R, light.G, light.B];
    }
}
