using System.Buffers.Binary;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Kinds of picture files that can be read.</summary>
internal enum PhotoFormat
{
    Jpeg,
    Png,
    WebP,
    Tiff,

    /// <summary>A phone's raw picture: what its sensor saw, as a TIFF file (DNG).</summary>
    Dng,

    /// <summary>HEIC, HEIF and AVIF: one container for several codecs.</summary>
    Heif,
}

/// <summary>Tells kinds of files apart by their first bytes; a name proves nothing.</summary>
internal static class FormatSniffer
{
    /// <summary>The format, or a refusal that names what was found instead.</summary>
    public static Outcome<PhotoFormat> Of(ReadOnlySpan<byte> bytes)
    {
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF])) return PhotoFormat.Jpeg;
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A])) return PhotoFormat.Png;
        if (Has(bytes, 0, "RIFF"u8)) return Has(bytes, 8, "WEBP"u8) ? PhotoFormat.WebP : Unreadable("video");
        if (Has(bytes, 4, "ftyp"u8)) return OfBrand(bytes);
        if (Has(bytes, 0, "II*\0"u8) || Has(bytes, 0, "MM\0*"u8)) return OfTags(bytes);
        return Other(bytes);
    }

    private static Outcome<PhotoFormat> OfTags(ReadOnlySpan<byte> bytes) =>
        Has(bytes, 8, "CR"u8) ? Unreadable(Raw) : DngMark.IsIn(bytes) ? PhotoFormat.Dng : PhotoFormat.Tiff;

    /// <summary>A camera's raw picture of a kind of its own.</summary>
    public const string Raw = "raw";

    /// <summary>A refusal that names what stands in the file's place, by its key in the message.</summary>
    public static Refusal Unreadable(string kind) => Refusal.OfInput(Codes.PhotoFormat, ("kind", kind));

    /// <summary>A refusal of a file that says it is a picture and then makes no sense.</summary>
    public static Refusal Nonsense(string format) => Refusal.OfInput(Codes.PhotoFormat, ("kind", "nonsense"), ("format", format));

    /// <summary>ISO base media files (ISO/IEC 14496-12) name what they are in their first box.</summary>
    private static Outcome<PhotoFormat> OfBrand(ReadOnlySpan<byte> bytes)
    {
        if (IsBrand("crx "u8, bytes)) return Unreadable(Raw);
        if (IsBrand("avis"u8, bytes) || IsBrand("hevc"u8, bytes) || IsBrand("msf1"u8, bytes)) return Unreadable("sequence");
        ReadOnlySpan<byte> major = bytes.Length >= 12 ? bytes[8..12] : default;
        return major.SequenceEqual("heic"u8) || major.SequenceEqual("heix"u8) || major.SequenceEqual("heim"u8)
            || major.SequenceEqual("heis"u8)
            || major.SequenceEqual("mif1"u8) || major.SequenceEqual("mif2"u8) || major.SequenceEqual("avif"u8)
            ? PhotoFormat.Heif
            : Unreadable("video");
    }

    private static bool IsBrand(ReadOnlySpan<byte> brand, ReadOnlySpan<byte> bytes) => Has(bytes, 8, brand);

    private static Refusal Other(ReadOnlySpan<byte> bytes)
    {
        if (Has(bytes, 0, "GIF8"u8)) return Unreadable("gif");
        if (Has(bytes, 0, "BM"u8)) return Unreadable("bmp");
        if (Has(bytes, 0, "%PDF"u8)) return Unreadable("pdf");
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0x0A]) || Has(bytes, 4, "JXL "u8)) return Unreadable("jxl");
        if (Has(bytes, 4, "jP  "u8)) return Unreadable("jp2");
        if (Has(bytes, 0, "II+\0"u8) || Has(bytes, 0, "MM\0+"u8)) return Unreadable("bigtiff");
        if (Has(bytes, 0, "FUJIFILMCCD-RAW"u8) || Has(bytes, 1, "FOVb"u8)) return Unreadable(Raw);
        if (Has(bytes, 0, "IIU\0"u8) || Has(bytes, 0, "IIRO"u8) || Has(bytes, 0, "IIRS"u8)) return Unreadable(Raw);
        if (bytes.StartsWith((ReadOnlySpan<byte>)[0x1A, 0x45, 0xDF, 0xA3])) return Unreadable("video");
        if (Has(bytes, 0, "PK"u8)) return Unreadable("zip");
        return Unreadable("unknown");
    }

    private static bool Has(ReadOnlySpan<byte> bytes, int at, ReadOnlySpan<byte> text) =>
        bytes.Length >= at + text.Length && bytes.Slice(at, text.Length).SequenceEqual(text);
}

/// <summary>What a picture file's header tells, whatever its format. Nothing here vouches for the pixels.</summary>
internal sealed record PhotoHeader
{
    /// <summary>Width as stored, px, 1 or more.</summary>
    public required long Width { get; init; }

    /// <summary>Height as stored, px, 1 or more.</summary>
    public required long Height { get; init; }

    /// <summary>Pictures of equal standing in the file; thumbnails and gain maps do not count.</summary>
    public int Pictures { get; init; } = 1;

    /// <summary>EXIF orientation, 1 to 8, that is still to be applied after decoding.</summary>
    public int Orientation { get; init; } = 1;

    /// <summary>True for a JPEG whose pixels come little by little (progressive).</summary>
    public bool IsInSeveralScans { get; init; }

    /// <summary>How and when the photo was taken.</summary>
    public ShotData Shot { get; init; }

    /// <summary>Colour profile (ICC.1); null where there is none, empty where there is one that cannot be put together.</summary>
    public byte[]? Profile { get; init; }

    /// <summary>True where the file says by code points, without a profile, that its colours are Display P3.</summary>
    public bool IsDisplayP3 { get; init; }

    /// <summary>True where the colours are coded in a way that is neither sRGB nor described by a usable profile.</summary>
    public bool HasForeignCodes { get; init; }
}

/// <summary>Numbers in a file's header; what lies beyond the end reads as zero, so that no header can throw.</summary>
internal static class HeaderBytes
{
    public static int U16(this ReadOnlySpan<byte> bytes, long at, bool isBig = true) =>
        at < 0 || at + 2 > bytes.Length ? 0
        : isBig ? BinaryPrimitives.ReadUInt16BigEndian(bytes[(int)at..])
        : BinaryPrimitives.ReadUInt16LittleEndian(bytes[(int)at..]);

    public static uint U32(this ReadOnlySpan<byte> bytes, long at, bool isBig = true) =>
        at < 0 || at + 4 > bytes.Length ? 0
        : isBig ? BinaryPrimitives.ReadUInt32BigEndian(bytes[(int)at..])
        : BinaryPrimitives.ReadUInt32LittleEndian(bytes[(int)at..]);

    /// <summary>The part of a file that a length claims, cut where the file ends.</summary>
    public static ReadOnlySpan<byte> Part(this ReadOnlySpan<byte> bytes, long at, long length) =>
        at < 0 || at >= bytes.Length || length <= 0 ? default : bytes.Slice((int)at, (int)Math.Min(length, bytes.Length - at));
}
