using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Workflow;

/// <summary>
/// Holds the rectified pictures of photos until their card's report is rendered: a few in memory, the others in a file
/// that goes with the shelf.
/// </summary>
/// <param name="mostInMemory">Pictures held in memory, of up to 23 MB each.</param>
internal sealed class PictureShelf(int mostInMemory = 8) : IDisposable
{
    private readonly Lock _lock = new();
    private FileStream? _file;
    private int _count;

    /// <summary>Puts a picture away; or why the temporary folder cannot take it.</summary>
    public Outcome<ShelvedPicture> Put(CardPicture picture)
    {
        lock (_lock)
        {
            if (++_count <= mostInMemory) return new ShelvedPicture(picture, 0, this);
            try
            {
                _file ??= new(Path.Combine(Path.GetTempPath(), $"cardscan-{Guid.NewGuid():N}.tmp"),
                    FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, bufferSize: 1, FileOptions.DeleteOnClose);
                long at = _file.Seek(0, SeekOrigin.End);
                _file.Write(picture.Rgba.Span);
                return new ShelvedPicture(picture with { Rgba = default }, at, this);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return DiskFault.OfTemporary(e);
            }
        }
    }

    /// <summary>Gets a picture back.</summary>
    internal CardPicture Take(ShelvedPicture shelved)
    {
        CardPicture picture = shelved.Picture;
        if (!picture.Rgba.IsEmpty) return picture;
        byte[] rgba = new byte[4 * picture.WidthPx * picture.HeightPx];
        lock (_lock)
        {
            _file!.Seek(shelved.At, SeekOrigin.Begin);
            _file.ReadExactly(rgba);
        }

        return picture with { Rgba = rgba };
    }

    public void Dispose() => _file?.Dispose();
}

/// <summary>A picture on a shelf.</summary>
/// <param name="Picture">The picture, or all of it but its pixels.</param>
/// <param name="At">Where its pixels lie in the shelf's file.</param>
/// <param name="Shelf">The shelf.</param>
internal sealed record ShelvedPicture(CardPicture Picture, long At, PictureShelf Shelf)
{
    private PagePhoto? _onPage;

    /// <summary>Gets it back, while the shelf stands.</summary>
    public CardPicture Take() => Shelf.Take(this);

    /// <summary>As pages hold it: made once, while the shelf stands, for every page that shows it.</summary>
    public PagePhoto OnPage() => _onPage ??= CardReport.OnPage(Take());
}
