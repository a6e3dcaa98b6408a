using System.Globalization;
using System.Xml;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A rectified photo as a page holds it.</summary>
/// <param name="Jpeg">A JPEG file.</param>
/// <param name="XMm">Its left edge in the card's frame, mm.</param>
/// <param name="YMm">Its upper edge, mm.</param>
/// <param name="WidthMm">What it shows of the card, mm.</param>
/// <param name="HeightMm">The same downwards, mm.</param>
public sealed record PagePhoto(ReadOnlyMemory<byte> Jpeg, double XMm, double YMm, double WidthMm, double HeightMm);

/// <summary>Takes the photos out of a page again; nothing else of it is trusted.</summary>
internal static class PagePhotos
{
    private static readonly byte[] JpegStart = [0xFF, 0xD8, 0xFF];

    public static ValueList<PagePhoto> Read(ReadOnlyMemory<byte> page)
    {
        // The page may be a stranger's: no definitions of its own, and nothing fetched.
        XmlReaderSettings settings = new() { DtdProcessing = DtdProcessing.Ignore, XmlResolver = null };
        List<PagePhoto> photos = [];
        try
        {
            using MemoryStream bytes = new(page.ToArray(), writable: false);
            using XmlReader reader = XmlReader.Create(bytes, settings);
            while (reader.ReadToFollowing("image"))
            {
                if (Photo(reader) is not { } photo) return [];
                photos.Add(photo);
            }

            return photos.ToValueList();
        }
        catch (XmlException)
        {
            return [];
        }
    }

    private static PagePhoto? Photo(XmlReader element)
    {
        string? address = element.GetAttribute("href");
        if (address is null || !address.StartsWith(PhotoSection.PictureStart, StringComparison.Ordinal)) return null;
        byte[] jpeg = new byte[address.Length];
        if (!Convert.TryFromBase64String(address[PhotoSection.PictureStart.Length..], jpeg, out int length)) return null;
        if (!jpeg.AsSpan(0, length).StartsWith(JpegStart)) return null;
        return At("x") is { } x && At("y") is { } y && At("width") is { } width and > 0 && At("height") is { } height and > 0
            ? new PagePhoto(jpeg.AsMemory(0, length), x, y, width, height)
            : null;

        double? At(string name) =>
            double.TryParse(element.GetAttribute(name), NumberStyles.Float, CultureInfo.InvariantCulture, out double value)
            && double.IsFinite(value) ? value : null;
    }
}
