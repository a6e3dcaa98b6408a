using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What the photos of one card tell.</summary>
/// <param name="Reading">Everything measured, not yet scored.</param>
/// <param name="Pictures">The rectified photos; empty unless asked for.</param>
/// <param name="Refused">The photos that the reading had to do without.</param>
internal sealed record SeenCard(Reading Reading, ValueList<CardPicture> Pictures, ValueList<LeftOut> Refused);

/// <summary>A photo that was not measured.</summary>
internal sealed record LeftOut(string Name, Refusal Refusal);

/// <summary>Photos of one card whose plan is at hand, from the files to the reading.</summary>
internal static class OneCard
{
    /// <summary>Opens, measures and combines them; those of a series once more with the phone's tone curve.</summary>
    public static Outcome<SeenCard> Read(IReadOnlyList<PhotoFile> photos, PlanFile plan, VisionOptions options)
    {
        SeenPhoto[] views = new SeenPhoto[photos.Count];
        Parallel.For(0, photos.Count, i => views[i] = View(photos[i], plan.Plan, options));
        SeenPhoto[] measured = [.. views.Where(view => !view.View.IsRefused)];
        LeftOut[] refused = [.. photos.Zip(views).Where(pair => pair.Second.View.IsRefused)
            .Select(pair => new LeftOut(pair.First.Name, pair.Second.View.Refusal!))];
        if (measured.Length == 0) return refused[0].Refusal.In(refused[0].Name);

        PhotoSeries series = CardReader.SeriesIn([.. views.Select(view => view.Said).OfType<CardView>()]);
        CardView[] seen = [.. measured.AsParallel().AsOrdered().Select(view => series.ResponseOf(view.View.Value.Record) is { } response
            ? View(view.File, plan.Plan, options with { Response = response }).View.Value
            : view.View.Value)];
        Outcome<Reading> reading = CardReader.Combine(seen, plan, options, series);
        return reading.IsRefused
            ? reading.Refusal!
            : new SeenCard(reading.Value, seen.Select(view => view.Picture).OfType<CardPicture>().ToValueList(), refused.ToValueList());
    }

    private static SeenPhoto View(PhotoFile file, Plan plan, VisionOptions options)
    {
        Outcome<OpenPhoto> opened = CardReader.Open(file);
        if (opened.IsRefused) return new(file, opened.Refusal!, null);
        using OpenPhoto photo = opened.Value;
        Outcome<CardView> view = photo.Measure(plan, options);
        return new(file, view, photo.Aside);
    }

    private sealed record SeenPhoto(PhotoFile File, Outcome<CardView> View, CardView? Aside)
    {
        public CardView? Said => View.IsRefused ? Aside : View.Value;
    }
}
