using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What photos of one card tell together of the phones that took them.</summary>
public sealed class PhotoSeries
{
    /// <summary>Lamps and skies stay as they are for no longer than this: photos farther apart in time are no series (no source).</summary>
    private static readonly TimeSpan MostApart = TimeSpan.FromMinutes(10);

    /// <summary>By the fingerprints of the photos.</summary>
    private readonly Dictionary<string, CameraResponse> _responses = [];

    private PhotoSeries() { }

    /// <summary>Why photos that differ in brightness tell no curve; null where they do, or where there are none.</summary>
    public Warning? Doubt { get; private set; }

    /// <summary>True where some photo's curve was found.</summary>
    public bool HasResponse => _responses.Count > 0;

    /// <summary>The tone curve of a photo; null where it is not known.</summary>
    /// <param name="photo">The photo's record.</param>
    /// <exception cref="ArgumentNullException">It is null.</exception>
    public CameraResponse? ResponseOf(PhotoRecord photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        return _responses.GetValueOrDefault(photo.Sha256);
    }

    internal static PhotoSeries Of(IEnumerable<CardView> views)
    {
        PhotoSeries found = new();
        foreach (IGrouping<PhotoCamera?, CardView> phone in views.Where(HasTones).GroupBy(view => view.Record.Camera))
        {
            foreach (List<CardView> photos in Together(phone)) found.Find(photos);
        }

        return found;
    }

    private void Find(List<CardView> photos)
    {
        (CameraResponse? response, Warning? doubt) = ExposureSeries.Find([.. photos.Select(view => view.Tones!)]);
        Doubt ??= doubt;
        if (response is null) return;
        foreach (CardView photo in photos) _responses[photo.Record.Sha256] = response;
    }

    /// <summary>The greys of a paper mask tell its curve better, and a raw photo has none.</summary>
    private static bool HasTones(CardView view) =>
        view.Record is { Light: Light.Front, Frame: null, Response: not { Source: PhotoResponse.Raw } }
        && view.Tones?.Tones.Any(tone => tone is not null) == true;

    /// <summary>Photos that were taken soon after one another; those that do not say when go with the first.</summary>
    private static IEnumerable<List<CardView>> Together(IEnumerable<CardView> phone)
    {
        List<CardView> photos = [];
        foreach (CardView view in phone.OrderBy(view => view.Record.Taken))
        {
            if (photos.Count > 0 && view.Record.Taken - photos[^1].Record.Taken > MostApart)
            {
                yield return photos;
                photos = [];
            }

            photos.Add(view);
        }

        yield return photos;
    }
}
