using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>
/// Holds the rectified pictures of photos until their card's report is rendered: a few in memory, the others in a file
/// that goes with the shelf.
/// </summary>
internal sealed class PictureShelf : IDisposable
{
    /// <summary>Pictures held in memory, of up to 23 MB each.</summary>
    private const int MostInMemory = 8;

    private readonly Lock _lock = new();
    private FileStream? _file;
    private int _count;

    /// <summary>Puts a picture away; or why the temporary folder cannot take it.</summary>
    public Outcome<ShelvedPicture> Put(CardPicture picture)
    {
        lock (_lock)
        {
            if (++_count <= MostInMemory) return new ShelvedPicture(picture, 0);
            try
            {
                _file ??= new(Path.Combine(Path.GetTempPath(), $"cardscan-{Guid.NewGuid():N}.tmp"),
                    FileMode.CreateNew, FileAccess.ReadWrite, FileShare.None, bufferSize: 1, FileOptions.DeleteOnClose);
                long at = _file.Seek(0, SeekOrigin.End);
                _file.Write(picture.Rgba.Span);
                return new ShelvedPicture(picture with { Rgba = default }, at);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                return DiskFault.OfTemporary(e);
            }
        }
    }

    /// <summary>Gets it back.</summary>
    public CardPicture Take(ShelvedPicture shelved)
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

/// <summary>A picture on the shelf.</summary>
/// <param name="Picture">The picture, or all of it but its pixels.</param>
/// <param name="At">Where its pixels lie in the file.</param>
internal sealed record ShelvedPicture(CardPicture Picture, long At);
