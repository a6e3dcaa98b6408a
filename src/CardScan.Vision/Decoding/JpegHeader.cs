using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Header of a JPEG file (ITU-T T.81, annex B): the segments before the first scan.</summary>
internal static class JpegHeader
{
    public static Outcome<PhotoHeader> Read(ReadOnlySpan<byte> file)
    {
        ExifData? exif = null;
        SortedDictionary<int, byte[]> profileParts = [];
        int profileCount = 0;
        long at = 2;
        while (at + 4 <= file.Length)
        {
            // Any number of fill bytes may stand before a marker.
            if (file[(int)at] != 0xFF) return FormatSniffer.Nonsense("JPEG");
            byte marker = file[(int)at + 1];
            if (marker == 0xFF)
            {
                at++;
                continue;
            }

            int length = file.U16(at + 2);
            if (length < 2 || marker is 0xDA or 0xD9) return FormatSniffer.Nonsense("JPEG");
            ReadOnlySpan<byte> body = file.Part(at + 4, length - 2);
            if (IsFrame(marker)) return Frame(marker, body, exif ?? new(1, default), Profile(profileParts, profileCount));
            if (marker == 0xE1 && exif is null && body.StartsWith("Exif\0\0"u8)) exif = ExifData.Read(body);
            if (marker == 0xE2 && body.StartsWith("ICC_PROFILE\0"u8) && body.Length > 14)
            {
                profileParts[body[12]] = body[14..].ToArray();
                profileCount = body[13];
            }

            at += 2 + length;
        }

        return PhotoDecoder.Damaged;
    }

    private static bool IsFrame(byte marker) => marker is >= 0xC0 and <= 0xCF and not (0xC4 or 0xC8 or 0xCC);

    private static Outcome<PhotoHeader> Frame(byte marker, ReadOnlySpan<byte> body, ExifData exif, byte[]? profile)
    {
        if (body.Length < 6) return FormatSniffer.Nonsense("JPEG");
        // C0 to C2: baseline, extended and progressive; C9 and CA the same in arithmetic coding.
        if (body[0] != 8 || marker is not (0xC0 or 0xC1 or 0xC2 or 0xC9 or 0xCA)) return FormatSniffer.Unreadable("jpeg");
        int components = body[5];
        return new PhotoHeader
        {
            Height = body.U16(1),
            Width = body.U16(3),
            Orientation = exif.Orientation,
            Shot = exif.Shot,
            IsInSeveralScans = marker is 0xC2 or 0xCA,
            // Inks become red, green and blue by a rule of thumb; their profile is made for presses.
            Profile = components == 4 ? null : profile,
            HasForeignCodes = components == 4,
        };
    }

    /// <summary>Parts are numbered from 1 (ICC.1, annex B.4).</summary>
    private static byte[]? Profile(SortedDictionary<int, byte[]> parts, int count) =>
        parts.Count == 0 ? null
        : parts.Count == count && parts.Keys.First() == 1 && parts.Keys.Last() == count ? [.. parts.Values.SelectMany(part => part)]
        : [];
}
