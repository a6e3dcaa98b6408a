using System.IO.Compression;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Header of a PNG file (W3C PNG, third edition): its chunks, the picture's data unread.</summary>
internal static class PngHeader
{
    /// <summary>No colour profile is longer; a bomb would be.</summary>
    private const int MostProfileBytes = 16 * 1000 * 1000;

    /// <summary>gAMA of sRGB, 1/2.2, in hundred thousandths; rounding and 1/2.4 stay within the tolerance.</summary>
    private const int SrgbGamma = 45455, GammaTolerance = 5000;

    public static Outcome<PhotoHeader> Read(ReadOnlySpan<byte> file)
    {
        ReadOnlySpan<byte> name = file.Part(12, 4);
        if (!name.SequenceEqual("IHDR"u8)) return FormatSniffer.Nonsense("PNG");
        PhotoHeader header = new() { Width = file.U32(16), Height = file.U32(20) };
        bool isSrgb = false;
        uint gamma = 0;
        for (long at = 33; ; at += 12L + file.U32(at))
        {
            // Every chunk must end inside the file: the decoder makes room for what a length claims, up to 4 GB.
            ReadOnlySpan<byte> chunk = file.Part(at + 4, 4), body = file.Part(at + 8, file.U32(at));
            if (at + 12L + file.U32(at) > file.Length) return PhotoDecoder.Damaged;
            if (chunk.SequenceEqual("IEND"u8)) break;
            if (OwnPicture.IsMaker(chunk, body)) return DrawnPicture.ByItsTexts;
            if (chunk.SequenceEqual("iCCP"u8)) header = header with { Profile = Inflate(body) };
            if (chunk.SequenceEqual("sRGB"u8)) isSrgb = true;
            if (chunk.SequenceEqual("gAMA"u8)) gamma = body.U32(0);
            if (chunk.SequenceEqual("acTL"u8)) header = header with { Pictures = (int)Math.Clamp(body.U32(0), 1, int.MaxValue) };
            // Coding-independent code points: primaries 1 with transfer 13 are sRGB.
            if (chunk.SequenceEqual("cICP"u8)) header = header with { HasForeignCodes = body.Length < 2 || body[0] != 1 || body[1] != 13 };
            if (chunk.SequenceEqual("eXIf"u8))
            {
                ExifData exif = ExifData.Read(body);
                header = header with { Orientation = exif.Orientation, Shot = exif.Shot };
            }
        }

        bool isBent = gamma != 0 && Math.Abs((long)gamma - SrgbGamma) > GammaTolerance && !isSrgb && header.Profile is null;
        return isBent ? header with { HasForeignCodes = true } : header;
    }

    /// <summary>A name, a zero, the method 0, then a zlib stream; empty where that cannot be unpacked.</summary>
    private static byte[] Inflate(ReadOnlySpan<byte> body)
    {
        int end = body.IndexOf((byte)0);
        if (end < 0 || end + 2 >= body.Length) return [];
        try
        {
            using MemoryStream packed = new(body[(end + 2)..].ToArray());
            using ZLibStream zlib = new(packed, CompressionMode.Decompress);
            byte[] profile = new byte[MostProfileBytes];
            int length = zlib.ReadAtLeast(profile, profile.Length, throwOnEndOfStream: false);
            return length == profile.Length ? [] : profile[..length];
        }
        catch (InvalidDataException)
        {
            return [];
        }
    }
}
