using CardScan.Model;
using SkiaSharp;

namespace CardScan.Reporting;

/// <summary>A rectified photo as Skia handles it.</summary>
internal static class Pixels
{
    /// <summary>Longest side of a photo inside the page, px: 200 dots an inch over the width of an A4 sheet.</summary>
    private const int MostOnPagePx = 1600;

    private const int JpegQuality = 88;
    private const long MostPixels = 100_000_000;

    /// <summary>Draws the photo into a rectangle.</summary>
    public static void Draw(SKCanvas canvas, CardPicture picture, SKRect into)
    {
        using SKImage image = ImageOf(picture);
        canvas.DrawImage(image, into, new SKSamplingOptions(SKCubicResampler.Mitchell));
    }

    /// <summary>The photo as a JPEG file for the page, reduced where it is larger than the page needs.</summary>
    public static byte[] Jpeg(CardPicture picture)
    {
        using SKImage whole = ImageOf(picture);
        return Jpeg(whole);
    }

    /// <summary>A picture file as a JPEG file for the page, reduced likewise; null where it is none, or far too large.</summary>
    public static byte[]? JpegOf(ReadOnlyMemory<byte> file)
    {
        using SKData data = SKData.CreateCopy(file.Span);
        using SKCodec? codec = SKCodec.Create(data);
        if (codec is null || (long)codec.Info.Width * codec.Info.Height > MostPixels) return null;
        using SKImage? whole = SKImage.FromEncodedData(data);
        return whole is null ? null : Jpeg(whole);
    }

    private static byte[] Jpeg(SKImage whole)
    {
        double reduction = Math.Min(1, (double)MostOnPagePx / Math.Max(whole.Width, whole.Height));
        SKImageInfo info = new(
            (int)Math.Round(whole.Width * reduction), (int)Math.Round(whole.Height * reduction), SKColorType.Rgba8888, SKAlphaType.Opaque);
        using SKBitmap reduced = new(info);
        // Mipmaps average all pixels; a bare cubic would skip some of them when reducing by much.
        if (!whole.ScalePixels(reduced.PeekPixels(), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear)))
            throw new InvalidOperationException($"The photo cannot be reduced to {info.Width} × {info.Height} px.");
        using SKData jpeg = reduced.Encode(SKEncodedImageFormat.Jpeg, JpegQuality)
            ?? throw new InvalidOperationException("The photo cannot be encoded.");
        return jpeg.ToArray();
    }

    private static SKImage ImageOf(CardPicture picture)
    {
        SKImageInfo info = new(picture.WidthPx, picture.HeightPx, SKColorType.Rgba8888, SKAlphaType.Opaque);
        return SKImage.FromPixelCopy(info, picture.Rgba.Span, info.RowBytes)
            ?? throw new InvalidOperationException("The photo has no pixels.");
    }
}
