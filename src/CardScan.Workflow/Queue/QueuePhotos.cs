using System.Text;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Puts photos into a workshop's queue, where any computer reads them (docs/workshop.md).</summary>
public static class QueuePhotos
{
    /// <summary>Copies the photos into the queue: all of them, or none.</summary>
    /// <param name="request">The photos, and how they are to be read; its archive is the workshop's.</param>
    /// <param name="person">Who puts them in.</param>
    /// <param name="progress">Told how many have been copied.</param>
    public static Outcome<QueueJob> Run(ReadRequest request, string person, IProgress<ReadProgress>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(request);
        ArchivePlace place = request.Archive ?? throw new ArgumentException("Without an archive there is no queue.", nameof(request));
        if (request.Photos.Select(InputFile.ObstacleToPhoto).FirstOrDefault(each => each is not null) is { } obstacle) return obstacle;
        Outcome<PlanBook> plans = PlanBook.Of(request);
        if (plans.IsRefused) return plans.Refusal!;
        QueuedRequest queued = new()
        {
            Plans = [.. plans.Value.Named.Select(plan => Encoding.UTF8.GetString(plan.Json))],
            Card = request.Card, IsAlone = request.IsAlone, HasPlainTones = request.HasPlainTones, Light = request.Light,
            Scoring = request.Scoring,
        };
        PhotosToRead photos = new()
        {
            Paths = request.Photos, Request = queued.ToJson(), IsOfOneCard = request.IsOfOneCard, PutBy = person,
        };
        return place.Use(archive => archive.PutInQueue(photos, Copied), mayMake: true);

        void Copied(int done) =>
            progress?.Report(new(ReadStep.Copying, done, request.Photos.Count, Path.GetFileName(request.Photos[done - 1])));
    }
}
