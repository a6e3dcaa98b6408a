using CardScan.Model;
using OpenCvSharp;

namespace CardScan.Workflow.Tests;

/// <summary>Photos as the same phone would have taken them with more or less light, without a word of their exposure.</summary>
internal static class ExposedPhoto
{
    /// <summary>Another exposure of a photo, as a JPEG file.</summary>
    /// <param name="path">The photo.</param>
    /// <param name="factor">How much light there is, in the photo's own.</param>
    public static byte[] Of(string path, double factor)
    {
        using Mat photo = Cv2.ImRead(path), codes = new(1, 256, MatType.CV_8UC1), exposed = new();
        for (int code = 0; code < 256; code++)
            codes.Set(0, code, SrgbCurve.Byte(Math.Min(1, factor * SrgbCurve.Linear(code / 255.0))));
        Cv2.LUT(photo, codes, exposed);
        Cv2.ImEncode(".jpg", exposed, out byte[] jpeg, new ImageEncodingParam(ImwriteFlags.JpegQuality, 92));
        return jpeg;
    }
}
