using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Header of a DNG file (Adobe, "Digital Negative (DNG) Specification", version 1.7.1.0): its raw picture.</summary>
internal static class DngHeader
{
    private const int SubfileType = 254, Width = 256, Height = 257, BitsPerSample = 258, Compression = 259, Photometric = 262,
        StripOffsets = 273, SamplesPerPixel = 277, StripLengths = 279,
        TileOffsets = 324, TileLengths = 325, SubDirectories = 330, SampleFormat = 339,
        ActiveArea = 50829, OpcodesOfMosaic = 51009, OpcodesOfColours = 51022;

    /// <summary>The colours of a mosaic, and three at each pixel.</summary>
    private const long Mosaic = 32803, LinearRaw = 34892;

    private const long Uncompressed = 1, LosslessJpeg = 7;

    private const int MostDirectories = 32;

    /// <summary>The largest picture in strips of one row, or in tiles of 64 × 64.</summary>
    private const uint MostPieces = 65_536;

    public static Outcome<PhotoHeader> Read(ReadOnlySpan<byte> file)
    {
        TagDirectory first = TagDirectory.First(file), raw = RawIn(first, out int pictures);
        if (raw.Number(Width) is not long width || raw.Number(Height) is not long height) return FormatSniffer.Nonsense("DNG");
        if (raw.Number(Compression) is not (Uncompressed or LosslessJpeg) || raw.Numbers(BitsPerSample).Any(bits => bits is < 8 or > 16)
            || raw.Numbers(SampleFormat).Any(kind => kind != 1))
            return FormatSniffer.Unreadable("dng");

        // Sensors have dark pixels along their edges, which are no part of the picture: top, left, bottom, right.
        long[] area = raw.Numbers(ActiveArea);
        if (area is [long top, long left, long bottom, long right] && bottom <= height && right <= width)
            (width, height) = (right - left, bottom - top);
        ExifData exif = ExifData.Of(first);
        return new PhotoHeader { Width = width, Height = height, Pictures = pictures, Orientation = exif.Orientation, Shot = exif.Shot };
    }

    /// <summary>
    /// True where the strips or tiles lie inside the file and hold the picture: the library leaves black what is missing.
    /// </summary>
    /// <param name="file">A file whose header was judged.</param>
    public static bool IsWhole(ReadOnlySpan<byte> file)
    {
        TagDirectory raw = RawIn(TagDirectory.First(file), out _);
        bool isTiled = raw.Number(TileOffsets) is not null, isPacked = raw.Number(Compression) == LosslessJpeg;
        long[] places = raw.Numbers(isTiled ? TileOffsets : StripOffsets, MostPieces),
            lengths = raw.Numbers(isTiled ? TileLengths : StripLengths, MostPieces);
        if (places.Length != lengths.Length) return false;
        long bits = raw.Number(BitsPerSample) ?? 16, held = 0;
        foreach ((long at, long length) in places.Zip(lengths))
        {
            if (length <= 0 || at + length > file.Length) return false;
            long numbers = isPacked ? NumbersInJpeg(file.Part(at, length)) : 8 * length / bits;
            if (numbers == 0) return false;
            held += numbers;
        }

        return held >= raw.Number(Width) * raw.Number(Height) * (raw.Number(SamplesPerPixel) ?? 1);
    }

    /// <summary>What the lens takes of the light; null where the file does not say.</summary>
    public static LensShading? ShadingIn(ReadOnlySpan<byte> file)
    {
        TagDirectory raw = RawIn(TagDirectory.First(file), out _);
        return LensShading.Of(raw.Bytes(OpcodesOfMosaic), raw.Bytes(OpcodesOfColours));
    }

    /// <summary>How many numbers a lossless JPEG (ITU-T T.81, SOF3) says that it holds; 0 for anything else.</summary>
    private static long NumbersInJpeg(ReadOnlySpan<byte> jpeg)
    {
        if (!jpeg.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8])) return 0;
        long numbers = 0;
        for (long at = 2; at + 4 <= jpeg.Length && jpeg[(int)at] == 0xFF; at += 2 + jpeg.U16(at + 2))
        {
            int marker = jpeg[(int)at + 1];
            if (marker == 0xDA) return numbers;
            if (marker == 0xC3 && at + 10 <= jpeg.Length)
                numbers = (long)jpeg.U16(at + 5) * jpeg.U16(at + 7) * jpeg[(int)at + 9];
        }

        return 0;
    }

    /// <summary>The directory of the raw picture at full size; one that does not exist where there is none.</summary>
    /// <remarks>Previews, masks and maps of depth lie beside it, each of which says that it is one.</remarks>
    /// <param name="first">The file's first directory.</param>
    /// <param name="pictures">How many there are.</param>
    private static TagDirectory RawIn(TagDirectory first, out int pictures)
    {
        pictures = 0;
        TagDirectory found = default;
        if (IsRaw(first))
        {
            found = first;
            pictures = 1;
        }

        foreach (long place in first.Numbers(SubDirectories, MostDirectories))
        {
            TagDirectory inner = first.At(place);
            if (!IsRaw(inner)) continue;
            if (pictures++ == 0) found = inner;
        }

        return found;

        static bool IsRaw(TagDirectory directory) =>
            directory.Number(Photometric) is Mosaic or LinearRaw && (directory.Number(SubfileType) ?? 0) == 0;
    }
}
