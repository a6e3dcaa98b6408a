using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Header of a WebP file (RFC 9649).</summary>
internal static class WebPHeader
{
    public static Outcome<PhotoHeader> Read(ReadOnlySpan<byte> file)
    {
        PhotoHeader? header = null;
        int frames = 0;
        for (long at = 12; at + 8 <= file.Length;)
        {
            ReadOnlySpan<byte> name = file.Part(at, 4);
            uint length = file.U32(at + 4, isBig: false);
            ReadOnlySpan<byte> body = file.Part(at + 8, length);
            if (name.SequenceEqual("VP8X"u8) && body.Length >= 10) header = new() { Width = 1 + U24(body, 4), Height = 1 + U24(body, 7) };
            else if (name.SequenceEqual("VP8 "u8)) header ??= Lossy(body);
            else if (name.SequenceEqual("VP8L"u8)) header ??= Lossless(body);
            else if (name.SequenceEqual("ANMF"u8)) frames++;
            else if (name.SequenceEqual("ICCP"u8) && header is not null) header = header with { Profile = body.ToArray() };
            else if (name.SequenceEqual("EXIF"u8) && header is not null)
            {
                ExifData exif = ExifData.Read(body);
                header = header with { Orientation = exif.Orientation, Shot = exif.Shot };
            }

            at += 8L + length + (length & 1);
        }

        return header is null ? FormatSniffer.Nonsense("WebP") : header with { Pictures = Math.Max(1, frames) };
    }

    /// <summary>Key frame header of VP8 (RFC 6386, section 9.1).</summary>
    private static PhotoHeader? Lossy(ReadOnlySpan<byte> body) => body.Length < 10 ? null
        : new() { Width = body.U16(6, isBig: false) & 0x3FFF, Height = body.U16(8, isBig: false) & 0x3FFF };

    private static PhotoHeader? Lossless(ReadOnlySpan<byte> body)
    {
        if (body.Length < 5 || body[0] != 0x2F) return null;
        uint bits = body.U32(1, isBig: false);
        return new() { Width = 1 + (bits & 0x3FFF), Height = 1 + ((bits >> 14) & 0x3FFF) };
    }

    private static long U24(ReadOnlySpan<byte> bytes, int at) => bytes[at] | (bytes[at + 1] << 8) | (bytes[at + 2] << 16);
}
