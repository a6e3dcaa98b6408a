using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>The picture in grey at reduced sizes, made when asked for.</summary>
internal sealed class Pyramid(Mat bgr) : IDisposable
{
    private readonly Dictionary<int, Mat> _grey = [];
    private readonly Dictionary<int, Mat> _negative = [];

    public Mat At(int reduction)
    {
        if (_grey.TryGetValue(reduction, out Mat? known)) return known;
        Mat reduced = new();
        if (reduction == 2)
        {
            using Mat half = new();
            Cv2.Resize(bgr, half, new Size(Math.Max(1, bgr.Width / 2), Math.Max(1, bgr.Height / 2)), 0, 0, InterpolationFlags.Area);
            Cv2.CvtColor(half, reduced, ColorConversionCodes.BGR2GRAY);
        }
        else
        {
            Mat finer = At(reduction / 2);
            Cv2.Resize(finer, reduced, new Size(Math.Max(1, finer.Width / 2), Math.Max(1, finer.Height / 2)), 0, 0, InterpolationFlags.Area);
        }

        return _grey[reduction] = reduced;
    }

    public Mat NegativeAt(int reduction)
    {
        if (_negative.TryGetValue(reduction, out Mat? known)) return known;
        Mat negative = new();
        Cv2.BitwiseNot(At(reduction), negative);
        return _negative[reduction] = negative;
    }

    public void Dispose()
    {
        foreach (Mat mat in _grey.Values.Concat(_negative.Values)) mat.Dispose();
    }
}
