using CardScan.Model;
using MathNet.Numerics.LinearAlgebra;

namespace CardScan.Vision;

/// <summary>What the series that a phone took let expect of the tone curve of its next photo.</summary>
/// <remarks>
/// In units of the spread from phone to phone, a curve's terms are θ = φ + δ: φ ~ N(0, 1 − r²) is the phone's own, δ ~ N(0, r²) differs
/// from scene to scene, because phones adapt. Nothing is known of r² beforehand but that it lies between 0 and 1. Each series tells
/// a θ with an error; for each of <see cref="Shares"/> values of r², φ follows in closed form, and what the values of r² let expect
/// is mixed by how likely they make the series. So a single series says little of r², and several that agree say that it is
/// small. See docs/method/series.md, "Phones that are remembered".
/// </remarks>
internal static class PhoneCurve
{
    private const int Shares = 20;

    /// <summary>
    /// One photo in ten is taken in a way that its file does not tell: another mode, another program. Its curve is as good as another
    /// phone's (no source).
    /// </summary>
    private const double Otherwise = 0.1;

    private static readonly Vector<double> Spread = Vector<double>.Build.Dense(ExposureSeries.Spread);

    /// <summary>The curve to expect; null where no series tells one with its covariance.</summary>
    /// <param name="series">What the phone's series told.</param>
    public static CameraResponse? Expected(IEnumerable<PhotoResponse> series)
    {
        SeriesTold[] told = [.. series.Where(IsWhole).Select(SeriesTold.Of)];
        if (told.Length == 0) return null;
        Guess[] guesses = [.. Enumerable.Range(0, Shares).Select(i => Guess.With((i + 0.5) / Shares, told))];
        double most = guesses.Max(guess => guess.LnLikelihood), all = guesses.Sum(Weight);
        Vector<double> mean = guesses.Aggregate(Vector<double>.Build.Dense(CameraResponse.Terms),
            (sum, guess) => sum + Weight(guess) / all * guess.Mean);
        Matrix<double> covariance = guesses.Aggregate(Matrix<double>.Build.Dense(CameraResponse.Terms, CameraResponse.Terms),
            (sum, guess) => sum + Weight(guess) / all * (guess.Covariance + (guess.Mean - mean).OuterProduct(guess.Mean - mean)));
        // About the mean that is undone: where the photo was taken otherwise, all that is undone is wrong.
        Matrix<double> other = Matrix<double>.Build.DenseIdentity(CameraResponse.Terms) + mean.OuterProduct(mean);
        covariance = (1 - Otherwise) * covariance + Otherwise * other;
        return new(
            mean.PointwiseMultiply(Spread).ToArray(), covariance.PointwiseMultiply(Spread.OuterProduct(Spread)).ToArray(),
            PhotoResponse.Phone, told.Length);

        double Weight(Guess guess) => Math.Exp(guess.LnLikelihood - most);
    }

    /// <summary>
    /// False for a reading that was made before covariances were kept, and for numbers that no series has: one whose terms surprise
    /// that much is not believed.
    /// </summary>
    private static bool IsWhole(PhotoResponse response) => response.Terms.Count == CameraResponse.Terms
        && response.Terms.Zip(Spread, (term, spread) => Math.Abs(term) / spread).All(size => size < ExposureSeries.MostSurprise)
        && response.Covariance.Count == CameraResponse.Terms * (CameraResponse.Terms + 1) / 2
        && double.IsFinite(CovarianceOf(response).Determinant()) && CovarianceOf(response).Evd().EigenValues.All(value => value.Real > 0);

    private static Matrix<double> CovarianceOf(PhotoResponse response) => Matrix<double>.Build.Dense(
        CameraResponse.Terms, CameraResponse.Terms,
        (i, j) => response.Covariance[Math.Max(i, j) * (Math.Max(i, j) + 1) / 2 + Math.Min(i, j)] / (Spread[i] * Spread[j]));

    /// <summary>What one series tells, without what was expected beforehand of any phone, which it holds already.</summary>
    /// <param name="Precision">Inverse of the covariance that it alone gives.</param>
    /// <param name="Pull">Precision times the terms that it alone gives.</param>
    private sealed record SeriesTold(Matrix<double> Precision, Vector<double> Pull)
    {
        public static SeriesTold Of(PhotoResponse response)
        {
            Matrix<double> inverse = CovarianceOf(response).Inverse();
            return new(
                inverse - Matrix<double>.Build.DenseIdentity(CameraResponse.Terms),
                inverse * Vector<double>.Build.DenseOfEnumerable(response.Terms).PointwiseDivide(Spread));
        }
    }

    /// <summary>What to expect if scenes differ by a given share.</summary>
    /// <param name="LnLikelihood">How likely it makes the series, natural log, up to a constant.</param>
    /// <param name="Mean">Terms of the next photo's curve.</param>
    /// <param name="Covariance">Their covariance.</param>
    private sealed record Guess(double LnLikelihood, Vector<double> Mean, Matrix<double> Covariance)
    {
        /// <param name="share">r².</param>
        /// <param name="series">What the series tell.</param>
        public static Guess With(double share, IReadOnlyList<SeriesTold> series)
        {
            Matrix<double> one = Matrix<double>.Build.DenseIdentity(CameraResponse.Terms), precision = one / (1 - share);
            Vector<double> pull = Vector<double>.Build.Dense(CameraResponse.Terms);
            double ln = -0.5 * CameraResponse.Terms * Math.Log(1 - share);
            foreach (SeriesTold told in series)
            {
                // δ integrated out: what the series still says of φ.
                Matrix<double> scatter = one + share * told.Precision, kept = scatter.Inverse();
                precision += kept * told.Precision;
                pull += kept * told.Pull;
                ln += 0.5 * (share * told.Pull.DotProduct(kept * told.Pull) - Math.Log(scatter.Determinant()));
            }

            Matrix<double> covariance = precision.Inverse();
            Vector<double> mean = covariance * pull;
            return new(ln + 0.5 * (mean.DotProduct(pull) - Math.Log(precision.Determinant())), mean, covariance + share * one);
        }
    }
}
