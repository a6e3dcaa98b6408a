using CardScan.Model;

namespace CardScan.Scoring.Comparing;

/// <summary>What the photos of two cards may have done to tones.</summary>
internal enum PairTones
{
    /// <summary>The same, as far as is known: one phone, one brightness. What it did drops out.</summary>
    Alike,

    /// <summary>Another phone, or another part of its curve: what they did stands between the cards.</summary>
    Unlike,

    /// <summary>Each is known by a series of photos, and undone, or its photo is raw.</summary>
    Known,

    /// <summary>A grey strip in both brought them to the tones of one photo: what that did drops out.</summary>
    OneScale,
}

/// <summary>Photos that may have bent tones differently.</summary>
/// <remarks>
/// Every photo states the error that all its darkness shares (<see cref="PhotoQuality.DarknessScaleError"/>). docs/method/comparing.md,
/// "Photos taken apart".
/// </remarks>
internal static class UnlikePhotos
{
    /// <summary>Bare material this many times as bright lies on another part of the tone curve (0.6 stops; no source).</summary>
    private const double OtherBrightness = 1.5;

    /// <summary>
    /// How far tone curves stretch strong marks against faint ones, as a share of what they stretch all marks by: the bends of
    /// docs/method/photo-check.md, "Tone curves", give 0.5, and rendered phones up to 1.
    /// </summary>
    private const double BendPerStretch = 0.7;

    /// <summary>What two readings' photos may have done, so far as they tell how they were taken.</summary>
    public static PairTones TonesOf(Reading first, Reading later)
    {
        if (ScaleOf(first) is { } scale && scale == ScaleOf(later)) return PairTones.OneScale;
        if (IsMeasured(first) && IsMeasured(later)) return PairTones.Known;
        bool isOnePhone = PhoneOf(first) is not { } one || PhoneOf(later) is not { } other || one == other;
        return isOnePhone && Equals(TermsOf(first), TermsOf(later))
            && Math.Abs(LnBrightness(first) - LnBrightness(later)) < Math.Log(OtherBrightness)
                ? PairTones.Alike
                : PairTones.Unlike;
    }

    /// <summary>
    /// By how much the marks of one reading may be stretched against the other's; by nothing where no photo states an error.
    /// </summary>
    /// <param name="first">The reference.</param>
    /// <param name="later">The other.</param>
    public static StretchDoubt DoubtOf(Reading first, Reading later)
    {
        double error = TonesOf(first, later) == PairTones.OneScale
            ? double.Hypot(ErrorOnScale(first), ErrorOnScale(later))
            : Math.Sqrt(SharedVariance(first) + SharedVariance(later));
        return new(_ => error, BendPerStretch * error);
    }

    /// <summary>
    /// The photo whose tones its own were brought to, itself where nothing was undone; null where there are several photos, which have
    /// no tones in common.
    /// </summary>
    private static string? ScaleOf(Reading reading) => reading.Photos is not [var photo] ? null
        : photo.Response is { } response ? response.Scale?.PhotoSha256
        : photo.Sha256;

    /// <summary>By which share its marks may be stretched against the scale: by the curve, and by what is not a curve's.</summary>
    private static double ErrorOnScale(Reading reading)
    {
        PhotoRecord photo = reading.Photos[0];
        (double curve, double own) = photo.Response?.Scale is { } scale
            ? (scale.Error, scale.OwnError)
            : (0, PhotoQuality.UsualDarknessScaleError);
        double all = photo.Quality?.DarknessScaleError ?? 0;
        return Math.Sqrt(curve * curve + Math.Max(0, all * all - curve * curve - own * own));
    }

    private static bool HasResponse(Reading reading) => reading.Photos.Any(photo => photo.Response is not null);

    /// <summary>True where its own photos told the curve, not those of other days.</summary>
    private static bool IsMeasured(Reading reading) => reading.Photos.Any(photo => photo.Response is { IsMeasured: true });

    /// <summary>What was undone; null where nothing was.</summary>
    private static ValueList<double>? TermsOf(Reading reading) =>
        reading.Photos.Select(photo => photo.Response?.Terms).FirstOrDefault(terms => terms is not null);

    /// <summary>The phone; null where the photos do not say, which is no reason to take it for another.</summary>
    private static (string? Make, string? Model, string? Lens)? PhoneOf(Reading reading) =>
        reading.Photos.Select(photo => photo.Camera).FirstOrDefault(camera => camera is not null) is { } phone
            ? (phone.Make, phone.Model, phone.Lens)
            : null;

    private static double LnBrightness(Reading reading)
    {
        double[] known = [.. reading.Photos.Select(photo => photo.Quality?.BareLuminance).OfType<double>().Where(bare => bare > 0)];
        return known.Length == 0 ? 0 : known.Average(Math.Log);
    }

    /// <summary>Each photo of a card has its own bend, of which their mean has less; a series has one.</summary>
    private static double SharedVariance(Reading reading)
    {
        double[] errors = [.. reading.TonePhotos.Select(photo => photo.Quality?.DarknessScaleError).OfType<double>()];
        if (errors.Length == 0) return 0;
        return errors.Average(error => error * error) / (HasResponse(reading) ? 1 : errors.Length);
    }
}
