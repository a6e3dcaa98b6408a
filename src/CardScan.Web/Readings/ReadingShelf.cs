using System.Collections.Concurrent;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>A reading of the archive, with what is made of it once for all that ask.</summary>
/// <param name="kept">The reading and its entry.</param>
/// <param name="archive">The archive.</param>
internal sealed class ShelvedReading(KeptReadingView kept, ArchivePlace archive)
{
    private readonly Lazy<ValueList<PagePhoto>> _photos = new(() => PhotosOf(kept.Entry, archive));
    private readonly Lazy<PhotoGuide?> _guide = new(() => PhotoGuide.Of(kept.Reading));

    /// <summary>The reading and its entry.</summary>
    public KeptReadingView Kept => kept;

    /// <summary>The rectified photos out of its report; none where no report was kept.</summary>
    public ValueList<PagePhoto> Photos => _photos.Value;

    /// <summary>What its photos have shown of a cut card; null of any other.</summary>
    public PhotoGuide? Guide => _guide.Value;

    /// <summary>Where the report cannot be read, the reading stands without its pictures.</summary>
    private static ValueList<PagePhoto> PhotosOf(ReadingEntry entry, ArchivePlace archive) =>
        entry.ReportPath is { } path && archive.FileBytes(path) is { IsRefused: false, Value: { } report }
            ? CardReport.PhotosOf(report)
            : [];
}

/// <summary>The readings that were looked at last: each is asked for several times, for its page, its pictures and its answers.</summary>
internal sealed class ReadingShelf(ArchivePlace archive)
{
    /// <summary>Readings that are held, each with a megabyte or two of pictures.</summary>
    private const int Most = 8;

    private readonly Lock _lock = new();
    private readonly ConcurrentDictionary<string, Judgement> _judgements = new();
    private readonly List<(string Name, ShelvedReading Reading)> _held = [];

    /// <summary>A reading; or why there is none.</summary>
    /// <param name="name">Its name in the archive: <c>r12</c>.</param>
    public Outcome<ShelvedReading> Take(string name)
    {
        lock (_lock)
        {
            if (_held.Find(each => each.Name == name).Reading is { } held) return held;
        }

        Outcome<ArchiveView> view = archive.Show(name);
        if (view.IsRefused) return view.Refusal!;
        if (view.Value.Reading is not { } kept) return Refusal.OfInput(Codes.ArchiveNoSuch, ("name", name));
        ShelvedReading reading = new(kept, archive);
        lock (_lock)
        {
            _held.Add((name, reading));
            if (_held.Count > Most) _held.RemoveAt(0);
        }

        return reading;
    }

    /// <summary>What a reading is good for; null where it cannot be read. A reading is never changed, so it is judged once.</summary>
    /// <param name="name">Its name in the archive.</param>
    public Judgement? JudgementOf(string name)
    {
        if (_judgements.TryGetValue(name, out Judgement? known)) return known;
        Outcome<ArchiveView> view = archive.Show(name);
        return view is { IsRefused: false, Value.Reading: { } kept } ? _judgements[name] = Judgement.Of(kept.Reading) : null;
    }
}
