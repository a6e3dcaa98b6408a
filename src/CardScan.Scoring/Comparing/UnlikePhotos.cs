using CardScan.Model;
using CardScan.Scoring.Fitting;

namespace CardScan.Scoring.Comparing;

/// <summary>What a relative dose could be where the two photos bent tones differently.</summary>
/// <remarks>
/// Every photo states the error that all its darkness shares (<see cref="PhotoQuality.DarknessScaleError"/>). Photos that
/// were taken alike share the bend too, and it drops out; whether they were, the readings do not tell. docs/method/comparing.md.
/// </remarks>
internal static class UnlikePhotos
{
    /// <summary>
    /// 95 % limits of the relative dose, ln, with both photos' shared errors in it; null where no photo states one or
    /// nothing can be fitted.
    /// </summary>
    /// <param name="first">The reference.</param>
    /// <param name="later">The other.</param>
    /// <param name="dose">The relative dose as it stands.</param>
    public static (double Low, double High)? Limits(Reading first, Reading later, DoseEstimate dose)
    {
        double scale = Math.Sqrt(SharedVariance(first) + SharedVariance(later));
        if (!(scale > 0)) return null;
        // How far the ratio moves is asked; how well the bent photos would tell it is not.
        if (EngravedPair.LargestShift(first, later, dose, 1 - scale, 1 + scale) is not { } shift) return null;
        double reach = NormalQuantile.TwoSided95 * shift;
        return (dose.LnRatio - double.Hypot(dose.LnRatio - dose.Low, reach), dose.LnRatio + double.Hypot(dose.High - dose.LnRatio, reach));
    }

    /// <summary>Each photo of a card has its own bend: their mean has less.</summary>
    private static double SharedVariance(Reading reading)
    {
        double[] errors = [.. reading.Photos.Select(photo => photo.Quality?.DarknessScaleError).OfType<double>()];
        return errors.Length == 0 ? 0 : errors.Average(error => error * error) / errors.Length;
    }
}
