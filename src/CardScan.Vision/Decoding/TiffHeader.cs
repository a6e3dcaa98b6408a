using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Header of a TIFF file (TIFF 6.0): its first directory, and how many there are.</summary>
internal static class TiffHeader
{
    private const int Width = 256, Height = 257, BitsPerSample = 258, Photometric = 262, SamplesPerPixel = 277,
        SubfileType = 254, SubDirectories = 330, SampleFormat = 339, Profile = 34675;

    private const int MostDirectories = 100;

    public static Outcome<PhotoHeader> Read(ReadOnlySpan<byte> file)
    {
        TagDirectory first = TagDirectory.First(file);
        if (!first.Exists || first.Number(Width) is not long width || first.Number(Height) is not long height)
            return FormatSniffer.Nonsense("TIFF");

        // The raw pictures of cameras are TIFF files too: they carry a mosaic's colours, or a thumbnail first.
        long colours = first.Number(Photometric) ?? -1;
        if (colours is 32803 or 34892
            || (first.Number(SubDirectories) is not null && (first.Number(SubfileType) & 1) == 1))
            return FormatSniffer.Unreadable(FormatSniffer.Raw);
        long[] bits = first.Numbers(BitsPerSample);
        if (colours is not (1 or 2 or 6) || bits.Length == 0 || bits.Any(count => count is not (8 or 16))
            || first.Numbers(SampleFormat).Any(kind => kind != 1) || first.Number(SamplesPerPixel) is > 4)
            return FormatSniffer.Unreadable("tiff");

        ExifData exif = ExifData.Of(first);
        return new PhotoHeader
        {
            Width = width,
            Height = height,
            Pictures = Pages(first),
            // The decoder turns TIFF by itself, whatever it is told.
            Shot = exif.Shot,
            Profile = first.Bytes(Profile),
        };
    }

    /// <summary>Directories that are no thumbnails; a chain that runs in a circle ends at the limit.</summary>
    private static int Pages(TagDirectory directory)
    {
        int pages = 0;
        for (int i = 0; directory.Exists && i < MostDirectories; i++, directory = directory.Next)
        {
            if ((directory.Number(SubfileType) & 1) != 1) pages++;
        }

        return pages;
    }
}
