namespace CardScan.Robustness;

/// <summary>The little that a phone writes and that is used: its focal length.</summary>
internal static class ExifSegment
{
    /// <summary>A JPEG with an Exif segment put in behind its start (Exif 2.3, CIPA DC-008: tag A405, 35 mm equivalent).</summary>
    public static byte[] WithFocalLength(byte[] jpeg, ushort focalLength35Mm)
    {
        byte[] exif = [
            .. "Exif\0\0MM"u8, 0, 42, 0, 0, 0, 8, // TIFF header, high byte first; the first directory follows at 8
            0, 1, 0x87, 0x69, 0, 4, 0, 0, 0, 1, 0, 0, 0, 26, 0, 0, 0, 0, // one entry: the Exif directory at 26
            0, 1, 0xA4, 0x05, 0, 3, 0, 0, 0, 1, // one entry: A405, a short
            (byte)(focalLength35Mm >> 8), (byte)focalLength35Mm, 0, 0, 0, 0, 0, 0];
        int length = exif.Length + 2;
        return [.. jpeg.AsSpan(0, 2), 0xFF, 0xE1, (byte)(length >> 8), (byte)length, .. exif, .. jpeg.AsSpan(2)];
    }
}
