using System.Globalization;
using System.Text;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A directory of tags as TIFF 6.0 (section 2) lays it out; Exif 2.3 uses the same.</summary>
/// <remarks>Only what headers need: whole numbers and raw bytes. Damaged entries are as if they were not there.</remarks>
internal readonly ref struct TagDirectory
{
    private const int MostEntries = 1000;

    private readonly ReadOnlySpan<byte> _file;
    private readonly bool _isBig;
    private readonly long _at;

    private TagDirectory(ReadOnlySpan<byte> file, bool isBig, long at)
    {
        _file = file;
        _isBig = isBig;
        _at = at;
    }

    /// <summary>True where there is a directory.</summary>
    public bool Exists => _at >= 8 && _at + 2 <= _file.Length && Count is > 0 and <= MostEntries;

    /// <summary>The directory behind this one in the file.</summary>
    public TagDirectory Next => new(_file, _isBig, _file.U32(_at + 2 + 12L * Count, _isBig));

    private int Count => _file.U16(_at, _isBig);

    /// <summary>The first directory of a file or Exif block; one that does not exist where these bytes are neither.</summary>
    public static TagDirectory First(ReadOnlySpan<byte> tiff)
    {
        bool isBig = tiff.StartsWith("MM\0*"u8);
        return isBig || tiff.StartsWith("II*\0"u8) ? new(tiff, isBig, tiff.U32(4, isBig)) : default;
    }

    /// <summary>The directory that a tag points to.</summary>
    public TagDirectory Inner(int tag) => Number(tag) is long at ? At(at) : default;

    /// <summary>The directory that stands at a place of this one's file.</summary>
    public TagDirectory At(long place) => new(_file, _isBig, place);

    /// <summary>The first of a tag's whole numbers; null where the tag is not there.</summary>
    public long? Number(int tag) => Numbers(tag) is [long first, ..] ? first : null;

    /// <summary>A tag's whole numbers (types BYTE, SHORT, LONG), of which no more than the first are read.</summary>
    public long[] Numbers(int tag, uint most = 64)
    {
        long at = Find(tag);
        int size = at < 0 ? 0 : _file.U16(at + 2, _isBig) switch { 1 => 1, 3 => 2, 4 or 13 => 4, _ => 0 };
        if (size == 0) return [];
        uint count = Math.Min(_file.U32(at + 4, _isBig), most);
        long values = count * size <= 4 ? at + 8 : _file.U32(at + 8, _isBig);
        if (values + count * size > _file.Length) return [];
        long[] numbers = new long[count];
        for (int i = 0; i < count; i++)
            numbers[i] = size switch
            {
                1 => _file[(int)(values + i)],
                2 => _file.U16(values + 2L * i, _isBig),
                _ => _file.U32(values + 4L * i, _isBig),
            };
        return numbers;
    }

    /// <summary>The first of a tag's fractions (type RATIONAL), above zero; null where the tag is not there.</summary>
    public double? Fraction(int tag)
    {
        long at = Find(tag);
        if (at < 0 || _file.U16(at + 2, _isBig) != 5) return null;
        long value = _file.U32(at + 8, _isBig);
        double fraction = (double)_file.U32(value, _isBig) / _file.U32(value + 4, _isBig);
        return double.IsFinite(fraction) && fraction > 0 ? fraction : null;
    }

    /// <summary>
    /// A tag's bytes (types BYTE, ASCII, UNDEFINED); null where the tag is not there, empty where it points past the end.
    /// </summary>
    public byte[]? Bytes(int tag)
    {
        long at = Find(tag);
        if (at < 0) return null;
        uint count = _file.U32(at + 4, _isBig);
        long values = count <= 4 ? at + 8 : _file.U32(at + 8, _isBig);
        return values + count > _file.Length ? [] : _file.Part(values, count).ToArray();
    }

    private long Find(int tag)
    {
        if (!Exists) return -1;
        for (int i = 0; i < Count; i++)
        {
            long at = _at + 2 + 12L * i;
            if (at + 12 > _file.Length) return -1;
            if (_file.U16(at, _isBig) == tag) return at;
        }

        return -1;
    }
}

/// <summary>What a photo's metadata tell of how it was taken.</summary>
/// <param name="FocalLength35Mm">Focal length for a 36 mm × 24 mm frame of the same diagonal, mm; null where the file does not say.</param>
/// <param name="Taken">Date and time by the camera's own clock; null where the file does not say.</param>
internal readonly record struct ShotData(double? FocalLength35Mm, DateTime? Taken)
{
    /// <summary>The phone; null where the file does not say.</summary>
    public PhotoCamera? Camera { get; init; }

    /// <summary>Exposure time, aperture and sensitivity; null where the file does not tell all three.</summary>
    public PhotoExposure? Exposure { get; init; }
}

/// <summary>What Exif (CIPA DC-008, version 2.3) tells of a photo.</summary>
/// <param name="Orientation">Tag 0x0112: 1 to 8; 1 where it is missing or no orientation.</param>
/// <param name="Shot">
/// Tags 0xA405 and 0x9003; of the exposure 0x829A, 0x829D and 0x8827; of the phone 0x010F, 0x0110, 0x0131 and 0xA434.
/// </param>
internal readonly record struct ExifData(int Orientation, ShotData Shot)
{
    private const int OrientationTag = 0x0112, ExifPointer = 0x8769, FocalLength35Tag = 0xA405, TakenTag = 0x9003,
        ExposureTimeTag = 0x829A, FNumberTag = 0x829D, SensitivityTag = 0x8827,
        MakeTag = 0x010F, ModelTag = 0x0110, SoftwareTag = 0x0131, LensTag = 0xA434;

    private const int LongestName = 80;

    /// <summary>Reads an Exif block, with or without the name in front of it.</summary>
    public static ExifData Read(ReadOnlySpan<byte> block)
    {
        if (block.StartsWith("Exif\0\0"u8)) block = block[6..];
        return Of(TagDirectory.First(block));
    }

    /// <summary>Reads the tags of a first directory.</summary>
    public static ExifData Of(TagDirectory first)
    {
        TagDirectory inner = first.Inner(ExifPointer);
        return new(
            first.Number(OrientationTag) is long turn and >= 1 and <= 8 ? (int)turn : 1,
            new(inner.Number(FocalLength35Tag) is long mm and > 0 ? mm : null, Time(inner.Bytes(TakenTag)))
            {
                Camera = CameraOf(first, inner),
                Exposure = inner.Fraction(ExposureTimeTag) is { } time && inner.Fraction(FNumberTag) is { } aperture
                    && inner.Number(SensitivityTag) is long iso and > 0 ? new(time, aperture, iso) : null,
            });
    }

    private static PhotoCamera? CameraOf(TagDirectory first, TagDirectory inner)
    {
        PhotoCamera camera = new()
        {
            Make = Name(first.Bytes(MakeTag)), Model = Name(first.Bytes(ModelTag)), Lens = Name(inner.Bytes(LensTag)),
            Software = Name(first.Bytes(SoftwareTag)),
        };
        return camera.Model is null ? null : camera;
    }

    /// <summary>A text of the file, without what is no letter, digit or mark.</summary>
    private static string? Name(byte[]? text)
    {
        if (text is null) return null;
        string name = new([.. Encoding.UTF8.GetString(text).Where(sign => !char.IsControl(sign) && sign != '\uFFFD').Take(LongestName)]);
        return name.Trim() is { Length: > 0 } trimmed ? trimmed : null;
    }

    /// <summary>A time as Exif writes it: "2026:03:14 10:20:30" and a zero.</summary>
    private static DateTime? Time(byte[]? text) =>
        text is not null && DateTime.TryParseExact(
            Encoding.ASCII.GetString(text).TrimEnd('\0', ' '), "yyyy:MM:dd HH:mm:ss", CultureInfo.InvariantCulture, DateTimeStyles.None,
            out DateTime time)
            ? time
            : null;
}
