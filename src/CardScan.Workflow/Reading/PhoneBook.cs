using System.Collections.Concurrent;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>The tone curves that the archive's series let expect of phones.</summary>
/// <remarks>May be asked by several threads; each phone is looked up once.</remarks>
/// <param name="archive">The archive; null knows no phone.</param>
internal sealed class PhoneBook(ArchivePlace? archive)
{
    private readonly ConcurrentDictionary<PhotoCamera, Lazy<CameraResponse?>> _found = new();

    /// <summary>The phones that a run may use.</summary>
    public static PhoneBook Of(ReadRequest request) => new(request.IsWithoutPhones ? null : request.Archive);

    /// <summary>How photos of a card by a phone are measured.</summary>
    /// <param name="vision">How they would be by any phone.</param>
    /// <param name="camera">The phone; null where the file does not say.</param>
    /// <param name="plan">
    /// The card's plan: what light from behind shows does not hang on tones, and a mask's greys tell them better.
    /// </param>
    public VisionOptions Fit(VisionOptions vision, PhotoCamera? camera, Plan plan) => plan is { Process: Process.Engrave, Frame: null }
        ? vision with { Response = Of(camera) }
        : vision;

    /// <summary>An archive that cannot be read knows no phone either: whoever needs it says so.</summary>
    private CameraResponse? Of(PhotoCamera? camera)
    {
        if (archive is not { } place || camera is null) return null;
        return _found.GetOrAdd(camera, _ => new(() => place.Use(kept => kept.ResponsesOf(camera)) is { IsRefused: false } told
            ? CardReader.ResponseOfPhone(told.Value)
            : null)).Value;
    }
}
