using CardScan.Language;
using CardScan.Model;
using OpenCvSharp;
using SkiaSharp;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>A decoded photo with what its metadata tell. The holder disposes it.</summary>
/// <param name="Picture">Upright.</param>
/// <param name="Shot">How and when it was taken.</param>
/// <param name="Warnings">What is doubtful.</param>
internal sealed record DecodedPhoto(Picture Picture, ShotData Shot, ValueList<Warning> Warnings) : IDisposable
{
    /// <summary>True where a changed bit in the file lightened or darkened everything behind it.</summary>
    public bool IsStepped { get; init; }

    public void Dispose() => Picture.Dispose();
}

/// <summary>
/// A file's bytes to an upright picture, sRGB unless it is raw. The header is judged before a pixel is decoded, by code of our own that
/// cannot run past an end; half a picture is a refusal, not a picture.
/// </summary>
internal static class PhotoDecoder
{
    public const long MostBytes = 100L * 1000 * 1000;
    public const long MostPixels = 100L * 1000 * 1000;

    // A stage prints nothing, and the library would complain of damaged files on standard error by itself.
    static PhotoDecoder() => Cv2.SetLogLevel(LogLevel.SILENT);

    /// <summary>Decodes a photo.</summary>
    public static Outcome<DecodedPhoto> Decode(ReadOnlyMemory<byte> bytes)
    {
        Outcome<(PhotoFormat Format, PhotoHeader Header)> judged = Judge(bytes.Span);
        if (judged.IsRefused) return judged.Refusal!;
        (PhotoFormat format, PhotoHeader header) = judged.Value;

        ShotData shot = header.Shot;
        bool isStepped = false;
        using SKColorSpace? foreign = SrgbConversion.ForeignSpace(header, out bool isUnknown);
        StoredPixels? pixels = format switch
        {
            PhotoFormat.Jpeg => DecodeJpeg(bytes, isForLibrary: header.IsInSeveralScans || foreign is not null, out isStepped),
            PhotoFormat.Heif => PixelsOf(HeifDecoder.Decode(bytes.Span, out shot)),
            PhotoFormat.Dng => PixelsOf(DngDecoder.Decode(bytes.Span, header)),
            _ => PixelsOf(Decode(bytes.Span)),
        };
        if (pixels is null) return Damaged;
        bool isSrgb = !isUnknown && (foreign is null || (pixels is BgrPixels { Bgr: var bgr } && SrgbConversion.TryConvert(bgr, foreign)));
        Picture picture = new(
            pixels, format == PhotoFormat.Heif ? 1 : header.Orientation, format == PhotoFormat.Dng ? CodeScale.Raw : CodeScale.Srgb);
        return new DecodedPhoto(picture, shot, isSrgb ? [] : [ProfileIgnored]) { IsStepped = isStepped };
    }

    /// <summary>Judges a file by its header, before a pixel is decoded.</summary>
    public static Outcome<(PhotoFormat Format, PhotoHeader Header)> Judge(ReadOnlySpan<byte> bytes)
    {
        Outcome<PhotoFormat> format = FormatOf(bytes);
        if (format.IsRefused) return format.Refusal!;
        Outcome<PhotoHeader> header = HeaderOf(bytes, format.Value);
        if (header.IsRefused) return header.Refusal!;
        return Check(header.Value) is { } refusal ? refusal : (format.Value, header.Value);
    }

    private static Outcome<PhotoFormat> FormatOf(ReadOnlySpan<byte> bytes)
    {
        if (bytes.IsEmpty) return Refusal.OfInput(Codes.PhotoEmpty);
        return bytes.Length > MostBytes
            ? Refusal.OfInput(Codes.PhotoTooLarge, ("size", In(Unit.Bytes, bytes.Length)), ("limit", In(Unit.Bytes, MostBytes)))
            : FormatSniffer.Of(bytes);
    }

    private static Outcome<PhotoHeader> HeaderOf(ReadOnlySpan<byte> bytes, PhotoFormat format) => format switch
    {
        PhotoFormat.Jpeg => JpegHeader.Read(bytes),
        PhotoFormat.Png => PngHeader.Read(bytes),
        PhotoFormat.WebP => WebPHeader.Read(bytes),
        PhotoFormat.Tiff => TiffHeader.Read(bytes),
        PhotoFormat.Dng => DngHeader.Read(bytes),
        _ => HeifHeader.Read(bytes),
    };

    private static Refusal? Check(PhotoHeader header)
    {
        if (header.Width < 1 || header.Height < 1)
            return Refusal.OfInput(Codes.PhotoFormat, [("kind", "size"), .. SizeOf(header)]);
        // Each side first, since the product of two wild ones overflows.
        if (header.Width > MostPixels || header.Height > MostPixels || header.Width * header.Height > MostPixels)
            return Refusal.OfInput(Codes.PhotoTooLarge, [.. SizeOf(header), ("limit", In(Unit.None, MostPixels / 1e6))]);
        return header.Pictures > 1 ? Refusal.OfInput(Codes.PhotoSeveral, ("pictures", header.Pictures)) : null;
    }

    private static (string, Figure)[] SizeOf(PhotoHeader header) =>
        [("width", In(Unit.None, header.Width)), ("height", In(Unit.None, header.Height))];

    /// <summary>The refusal of a file whose picture's data are not those that were written.</summary>
    public static Refusal Damaged { get; } = Refusal.OfInput(Codes.PhotoIncomplete);

    /// <summary>Judges the data and decodes them, at once where that can be; null where they are damaged.</summary>
    /// <param name="bytes">The file.</param>
    /// <param name="isForLibrary">True where the library decodes it, on another processor if there is one.</param>
    /// <param name="isStepped">As in <see cref="DecodedPhoto.IsStepped"/>.</param>
    private static StoredPixels? DecodeJpeg(ReadOnlyMemory<byte> bytes, bool isForLibrary, out bool isStepped)
    {
        Task<BgrPixels?>? meanwhile = isForLibrary ? Task.Run(() => PixelsOf(Decode(bytes.Span))) : null;
        (bool isSound, JpegFrame? frame, StoredPixels? pixels) = JpegData.Judge(bytes.Span, makesPicture: !isForLibrary);
        if (meanwhile is not null) pixels = meanwhile.GetAwaiter().GetResult();
        else if (isSound) pixels ??= PixelsOf(Decode(bytes.Span));
        isStepped = isSound && pixels is not null && frame is not null && BrightnessStep.RunsThrough(pixels, frame);
        if (isSound) return pixels;
        pixels?.Dispose();
        return null;
    }

    private static BgrPixels? PixelsOf(Mat? bgr) => bgr is null ? null : new BgrPixels(bgr);

    /// <summary>Decodes the picture as it lies in the file; null where the data end early.</summary>
    private static Mat? Decode(ReadOnlySpan<byte> bytes)
    {
        // OpenCV answers data that end early with an empty picture, which Skia's decoders do not do for every kind of
        // file. It turns some kinds of files by itself and others not, so it is told not to.
        Mat bgr = Cv2.ImDecode(bytes, ImreadModes.Color | ImreadModes.IgnoreOrientation);
        if (bgr.Empty() || bgr.Type() != MatType.CV_8UC3)
        {
            bgr.Dispose();
            return null;
        }

        return bgr;
    }

    private static readonly Warning ProfileIgnored = new(Codes.ColourProfileIgnored);
}
