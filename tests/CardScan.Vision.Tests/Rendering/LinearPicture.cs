using OpenCvSharp;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>A picture in linear light, and its way to a photo file.</summary>
internal sealed class LinearPicture(int width, int height)
{
    private float[] _rgb = new float[3 * width * height];

    public int Width => width;

    public int Height => height;

    public void Set(int x, int y, (double R, double G, double B) colour)
    {
        int at = 3 * (y * width + x);
        (_rgb[at], _rgb[at + 1], _rgb[at + 2]) = ((float)colour.R, (float)colour.G, (float)colour.B);
    }

    public (double R, double G, double B) At(int x, int y)
    {
        int at = 3 * (y * width + x);
        return (_rgb[at], _rgb[at + 1], _rgb[at + 2]);
    }

    public void Blur(double sigmaPx) => Blur(sigmaPx, sigmaPx);

    /// <summary>Gaussian blur, in the picture's x and y apart.</summary>
    public void Blur(double sigmaXPx, double sigmaYPx)
    {
        using Mat sharp = Mat.FromPixelData(height, width, MatType.CV_32FC3, _rgb);
        using Mat blurred = new();
        Cv2.GaussianBlur(sharp, blurred, new Size(0, 0), sigmaXPx, sigmaYPx);
        _rgb = blurred.AsSpan<float>().ToArray();
    }

    public void AddNoise(double standardDeviation)
    {
        Random random = new(20260314);
        for (int i = 0; i < _rgb.Length; i++)
        {
            // Box–Muller.
            double gauss = Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
            _rgb[i] += (float)(standardDeviation * gauss);
        }
    }

    /// <summary>The same, quickly: every row takes its noise from another place of a table of normal chance.</summary>
    public void AddNoise(double standardDeviation, float[] normals, int seed)
    {
        Random random = new(seed);
        int rowLength = 3 * width;
        for (int y = 0; y < height; y++)
        {
            int from = random.Next(normals.Length - rowLength);
            for (int i = 0; i < rowLength; i++) _rgb[y * rowLength + i] += (float)standardDeviation * normals[from + i];
        }
    }

    /// <summary>The picture as another exposure and white balance would have it.</summary>
    public LinearPicture Gained(double red, double green, double blue)
    {
        LinearPicture gained = new(width, height);
        float[] gain = [(float)red, (float)green, (float)blue];
        for (int i = 0; i < _rgb.Length; i++) gained._rgb[i] = _rgb[i] * gain[i % 3];
        return gained;
    }

    /// <summary>The picture as a camera would have it that bends tones.</summary>
    /// <param name="curve">Linear light in and out, each channel for itself.</param>
    public LinearPicture Toned(Func<double, double> curve)
    {
        LinearPicture toned = new(width, height);
        for (int i = 0; i < _rgb.Length; i++) toned._rgb[i] = (float)curve(_rgb[i]);
        return toned;
    }

    /// <summary>
    /// The picture as a phone would have it that tones places apart: each is lifted by a power of the mean light about it.
    /// </summary>
    /// <param name="strength">Exponent; 0 changes nothing.</param>
    /// <param name="radiusPx">Standard deviation of what counts as about a place, px.</param>
    public LinearPicture LocallyToned(double strength, double radiusPx)
    {
        LinearPicture around = new(width, height), toned = new(width, height);
        _rgb.CopyTo(around._rgb, 0);
        around.Blur(radiusPx);
        for (int i = 0; i < _rgb.Length; i++) toned._rgb[i] = (float)(_rgb[i] * Math.Pow(around._rgb[i] / 0.45, -strength));
        return toned;
    }

    public LinearPicture Mirrored()
    {
        LinearPicture mirrored = new(width, height);
        for (int y = 0; y < height; y++)
            for (int x = 0; x < width; x++) mirrored.Set(width - 1 - x, y, At(x, y));
        return mirrored;
    }

    /// <summary>This picture and another of the same height side by side.</summary>
    public LinearPicture Beside(LinearPicture other)
    {
        LinearPicture both = new(width + other.Width, height);
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++) both.Set(x, y, At(x, y));
            for (int x = 0; x < other.Width; x++) both.Set(width + x, y, other.At(x, y));
        }

        return both;
    }

    /// <summary>Another picture laid into this one, its upper left corner at a place.</summary>
    public LinearPicture With(LinearPicture other, int left, int top)
    {
        LinearPicture both = new(width, height);
        _rgb.CopyTo(both._rgb, 0);
        for (int y = 0; y < Math.Min(other.Height, height - top); y++)
            for (int x = 0; x < Math.Min(other.Width, width - left); x++) both.Set(left + x, top + y, other.At(x, y));
        return both;
    }

    /// <summary>Largest value of any channel.</summary>
    public double Brightest => _rgb.Max();

    public byte[] ToPng() => Encoded(".png");

    public byte[] ToJpeg(int quality = 92) => Encoded(".jpg", new ImageEncodingParam(ImwriteFlags.JpegQuality, quality));

    private const int CodeSteps = 65536;

    /// <summary>sRGB codes (IEC 61966-2-1) of linear light in even steps.</summary>
    private static readonly double[] Codes = [.. Enumerable.Range(0, CodeSteps + 2).Select(i => (double)i / CodeSteps)
        .Select(linear => 255 * (linear <= 0.0031308 ? 12.92 * linear : 1.055 * Math.Pow(linear, 1 / 2.4) - 0.055))];

    private byte[] Encoded(string extension, params ImageEncodingParam[] parameters)
    {
        byte[] bgr = new byte[_rgb.Length];
        Random dither = new(1701);
        for (int i = 0; i < bgr.Length; i += 3)
        {
            for (int channel = 0; channel < 3; channel++) bgr[i + channel] = Code(_rgb[i + 2 - channel], dither.NextDouble());
        }

        using Mat mat = Mat.FromPixelData(height, width, MatType.CV_8UC3, bgr);
        Cv2.ImEncode(extension, mat, out byte[] file, parameters);
        return file;
    }

    /// <summary>Rounded up or down by chance so that the mean is right, as a sensor's noise sees to.</summary>
    private static byte Code(double linear, double chance)
    {
        double at = CodeSteps * Math.Clamp(linear, 0, 1);
        int step = (int)at;
        return (byte)Math.Min(255, Codes[step] + (at - step) * (Codes[step + 1] - Codes[step]) + chance);
    }
}
