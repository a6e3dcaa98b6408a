using System.Buffers.Binary;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.Metadata.Profiles.Exif;

namespace CardScan.Vision.Tests;

/// <content>What files say of phone and exposure.</content>
internal static partial class PhotoFiles
{
    /// <summary>A JPEG that says how it was taken, in an APP1 segment (CIPA DC-008) right after its start.</summary>
    /// <param name="jpeg">The file, without such a segment.</param>
    /// <param name="seconds">Exposure time, s.</param>
    /// <param name="model">The phone.</param>
    /// <param name="taken">When it was taken: "2026:03:14 10:20:30"; null does not say.</param>
    public static byte[] WithExposure(byte[] jpeg, double seconds, string model = "Phone", string? taken = null)
    {
        ExifProfile exif = new();
        exif.SetValue(ExifTag.Model, model);
        if (taken is not null) exif.SetValue(ExifTag.DateTimeOriginal, taken);
        exif.SetValue(ExifTag.ExposureTime, new Rational(seconds));
        exif.SetValue(ExifTag.FNumber, new Rational(1.8));
        exif.SetValue(ExifTag.ISOSpeedRatings, [100]);
        byte[] block = exif.ToByteArray()!, name = [.. "Exif\0\0"u8], length = new byte[2];
        if (block.AsSpan().StartsWith(name)) block = block[name.Length..];
        BinaryPrimitives.WriteUInt16BigEndian(length, (ushort)(2 + name.Length + block.Length));
        return [.. jpeg.AsSpan(0, 2), 0xFF, 0xE1, .. length, .. name, .. block, .. jpeg.AsSpan(2)];
    }
}
