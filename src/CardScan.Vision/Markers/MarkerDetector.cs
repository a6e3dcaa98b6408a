using OpenCvSharp;
using OpenCvSharp.Aruco;

namespace CardScan.Vision;

/// <summary>How a picture is searched for markers.</summary>
internal enum MarkerSearch
{
    /// <summary>
    /// Thresholded once, with the widest of the detector's three windows: a third of the time, and enough for most photos.
    /// </summary>
    Quick,

    /// <summary>As the detector does it.</summary>
    Usual,

    /// <summary>
    /// By the core of each module alone. Char that reaches 0.15 of a module from burned ones on all sides leaves less than
    /// half of a bare one, and the detector judges by the whole: (1 − 2 · 0.15)² = 0.49.
    /// </summary>
    Charred,
}

/// <summary>A marker of any card in a picture.</summary>
/// <param name="Id">Its number in the dictionary.</param>
/// <param name="Corners">Its corners in the picture, px.</param>
internal readonly record struct DetectedMarker(int Id, Point2f[] Corners);

/// <summary>OpenCV's detector, set up for cards.</summary>
internal static class MarkerDetector
{
    /// <summary>The markers in a grey picture, dark on light.</summary>
    public static DetectedMarker[] Detect(Mat grey, MarkerSearch search)
    {
        // One detector a call: it writes to its own parameters while it works.
        DetectorParameters parameters = new() { CornerRefinementMethod = CornerRefineMethod.None, ErrorCorrectionRate = 0.3 };
        if (search == MarkerSearch.Quick) parameters.AdaptiveThreshWinSizeMin = parameters.AdaptiveThreshWinSizeMax = 23;
        if (search == MarkerSearch.Charred)
        {
            // The middle 40 %, which char reaches from 0.3 of a module on; the usual margin of 13 % is less than one of its four samples.
            parameters.PerspectiveRemovePixelPerCell = 10;
            parameters.PerspectiveRemoveIgnoredMarginPerCell = 0.3;
        }

        using Dictionary dictionary = CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict6X6_1000);
        using ArucoDetector detector = new(dictionary, parameters, new RefineParameters());
        detector.DetectMarkers(grey, out Point2f[][] corners, out int[] ids, out _);
        return [.. ids.Zip(corners, (id, its) => new DetectedMarker(id, its))];
    }
}
