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
    /// <summary>Opens, measures and combines them.</summary>
    public static Outcome<SeenCard> Read(IReadOnlyList<PhotoFile> photos, PlanFile plan, VisionOptions options)
    {
        Outcome<CardView>[] views = new Outcome<CardView>[photos.Count];
        Parallel.For(0, photos.Count, i => views[i] = View(photos[i], plan.Plan, options));
        CardView[] seen = [.. views.Where(view => !view.IsRefused).Select(view => view.Value)];
        LeftOut[] refused =
            [.. photos.Zip(views).Where(pair => pair.Second.IsRefused).Select(pair => new LeftOut(pair.First.Name, pair.Second.Refusal!))];
        if (seen.Length == 0) return refused[0].Refusal.In(refused[0].Name);
        Outcome<Reading> reading = CardReader.Combine(seen, plan, options);
        return reading.IsRefused
            ? reading.Refusal!
            : new SeenCard(reading.Value, seen.Select(view => view.Picture).OfType<CardPicture>().ToValueList(), refused.ToValueList());
    }

    private static Outcome<CardView> View(PhotoFile file, Plan plan, VisionOptions options)
    {
        Outcome<OpenPhoto> opened = CardReader.Open(file);
        if (opened.IsRefused) return opened.Refusal!;
        using OpenPhoto photo = opened.Value;
        return photo.Measure(plan, options);
    }
}
