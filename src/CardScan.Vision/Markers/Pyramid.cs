using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>
/// The picture in grey at reduced sizes, and the markers in each, made when asked for and remembered: a photo may be asked
/// for its card first, and then for the markers of that card.
/// </summary>
/// <param name="pixels">The picture's pixels.</param>
/// <param name="orientation">How they are turned upright.</param>
internal sealed class Pyramid(StoredPixels pixels, ExifOrientation orientation) : IDisposable
{
    private readonly Dictionary<int, Mat> _grey = [];
    private readonly Dictionary<int, Mat> _negative = [];

    private readonly Dictionary<(int, bool, MarkerSearch), DetectedMarker[]> _markers = [];

    /// <summary>The picture, reduced by 2, 4 or 8.</summary>
    public Mat At(int reduction)
    {
        if (_grey.TryGetValue(reduction, out Mat? known)) return known;
        return _grey[reduction] = reduction == 2 ? orientation.Turn(pixels.HalfGrey()) : StoredPixels.Halved(At(reduction / 2));
    }

    /// <summary>Its negative.</summary>
    public Mat NegativeAt(int reduction)
    {
        if (_negative.TryGetValue(reduction, out Mat? known)) return known;
        Mat negative = new();
        Cv2.BitwiseNot(At(reduction), negative);
        return _negative[reduction] = negative;
    }

    /// <summary>The markers of any card in the reduced picture or its negative.</summary>
    public DetectedMarker[] MarkersAt(int reduction, bool isNegative, MarkerSearch search)
    {
        if (_markers.TryGetValue((reduction, isNegative, search), out DetectedMarker[]? known)) return known;
        return _markers[(reduction, isNegative, search)] =
            MarkerDetector.Detect(isNegative ? NegativeAt(reduction) : At(reduction), search);
    }

    public void Dispose()
    {
        foreach (Mat mat in _grey.Values.Concat(_negative.Values)) mat.Dispose();
    }
}
