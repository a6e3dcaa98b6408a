using OpenCvSharp;

namespace CardScan.Workflow.Tests;

/// <summary>The photos of two cards beside each other, as one photo. Each half keeps the light that it was rendered in.</summary>
internal static class PhotoOfBoth
{
    public static byte[] Of(string left, string right)
    {
        using Mat first = Cv2.ImRead(left), second = Cv2.ImRead(right);
        using Mat both = new(Math.Max(first.Height, second.Height), first.Width + second.Width, MatType.CV_8UC3, Scalar.All(128));
        using Mat placeOfFirst = both[0, first.Height, 0, first.Width], placeOfSecond = both[0, second.Height, first.Width, both.Width];
        first.CopyTo(placeOfFirst);
        second.CopyTo(placeOfSecond);
        return both.ToBytes(".jpg", new ImageEncodingParam(ImwriteFlags.JpegQuality, 92));
    }
}
