using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What photos of one card tell together of the phones that took them.</summary>
public sealed class PhotoSeries
{
    private readonly Dictionary<string, CameraResponse> _responses = [];

    /// <summary>Why photos that differ in brightness tell no curve; null where they do, or where there are none.</summary>
    public Warning? Doubt { get; private init; }

    /// <summary>True where some phone's curve was found.</summary>
    public bool HasResponse => _responses.Count > 0;

    /// <summary>The tone curve of the phone that took a photo; null where it is not known.</summary>
    /// <param name="photo">The photo's record.</param>
    public CameraResponse? ResponseOf(PhotoRecord photo)
    {
        ArgumentNullException.ThrowIfNull(photo);
        return photo.Light == Light.Front ? _responses.GetValueOrDefault(KeyOf(photo)) : null;
    }

    internal static PhotoSeries Of(IEnumerable<CardView> views)
    {
        Dictionary<string, CameraResponse> responses = [];
        Warning? doubt = null;
        foreach (IGrouping<string, CardView> phone in views
            .Where(view => view.Record is { Light: Light.Front, Frame: null } && view.Tones?.Tones.Any(tone => tone is not null) == true)
            .GroupBy(view => KeyOf(view.Record)))
        {
            (CameraResponse? response, Warning? why) = ExposureSeries.Find([.. phone.Select(view => view.Tones!)]);
            if (response is not null) responses[phone.Key] = response;
            doubt ??= why;
        }

        return new(responses) { Doubt = doubt };
    }

    private PhotoSeries(Dictionary<string, CameraResponse> responses) => _responses = responses;

    /// <summary>Photos of unknown phones are taken for one phone's: whoever takes a series holds one.</summary>
    private static string KeyOf(PhotoRecord photo) =>
        photo.Camera is { } camera ? $"{camera.Make}\n{camera.Model}\n{camera.Lens}\n{camera.Software}" : "";
}
