using System.Collections.Concurrent;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>A reading of the archive with the pictures that its report holds.</summary>
/// <param name="Kept">The reading and its entry.</param>
/// <param name="Photos">The rectified photos; none where no report was kept.</param>
internal sealed record ShelvedReading(KeptReadingView Kept, ValueList<PagePhoto> Photos);

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
        ShelvedReading reading = new(kept, PhotosOf(kept.Entry));
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

    private static ValueList<PagePhoto> PhotosOf(ReadingEntry entry)
    {
        try
        {
            return entry.ReportPath is { } path ? CardReport.PhotosOf(File.ReadAllBytes(path)) : [];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return []; // the reading stands without its pictures
        }
    }
}
