using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Pixels as a library decodes them: 8-bit, blue-green-red.</summary>
internal sealed unsafe class BgrPixels : StoredPixels
{
    private readonly byte* _first;
    private readonly long _stride;

    /// <summary>Takes over a picture.</summary>
    /// <param name="bgr">8-bit, blue-green-red; disposed with this object.</param>
    public BgrPixels(Mat bgr) : base(bgr.Width, bgr.Height)
    {
        if (bgr.Type() != MatType.CV_8UC3)
            throw new ArgumentException($"An 8-bit colour picture is needed, not {bgr.Type()}.", nameof(bgr));
        (Bgr, _stride) = (bgr, bgr.Step());
        _first = bgr.DataPointer;
    }

    public Mat Bgr { get; }

    public override (byte Red, byte Green, byte Blue) At(int column, int row)
    {
        byte* pixel = _first + row * _stride + column * 3L;
        return (pixel[2], pixel[1], pixel[0]);
    }

    public override double LuminanceAt(double x, double y, LuminanceShares shares)
    {
        int column = (int)x, row = (int)y;
        byte* upper = _first + row * _stride + column * 3L, lower = upper + _stride;
        return Between(x - column, y - row, Of(upper), Of(upper + 3), Of(lower), Of(lower + 3));

        double Of(byte* pixel) => shares.Of(pixel[2], pixel[1], pixel[0]);
    }

    public override Mat GreyOf(Rect part)
    {
        using Mat cutOut = new(Bgr, part);
        Mat grey = new();
        Cv2.CvtColor(cutOut, grey, ColorConversionCodes.BGR2GRAY);
        return grey;
    }

    public override Mat HalfGrey()
    {
        using Mat half = Halved(Bgr);
        Mat grey = new();
        Cv2.CvtColor(half, grey, ColorConversionCodes.BGR2GRAY);
        return grey;
    }

    public override Mat Warped(Mat right, Mat down)
    {
        using Mat bgr = Warped(Bgr, right, down);
        Mat rgba = new();
        Cv2.CvtColor(bgr, rgba, ColorConversionCodes.BGR2RGBA);
        return rgba;
    }

    public override void Dispose() => Bgr.Dispose();
}
