using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Scoring.Comparing;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>Readings from what a person names: a reading's file, the folder of a report, or a name of the archive.</summary>
public static class ReadingSource
{
    private const string ReadingName = "reading.json", PictureName = "annotated.png", PlanName = "plan.json";

    /// <summary>Loads readings that are to be scored together.</summary>
    /// <param name="names">
    /// Files, folders, or names of the archive: <c>r12</c>, or a card (<c>c5</c>, its number) or batch for its newest
    /// reading.
    /// </param>
    /// <param name="archive">Where a name that is no file is looked for; null looks nowhere.</param>
    internal static Outcome<ValueList<GivenReading>> Given(ValueList<string> names, ArchivePlace? archive)
    {
        List<Source> sources = [];
        foreach (string name in names)
        {
            Outcome<Source> source = SourceOf(name, archive, sources.FirstOrDefault()?.Reading.Plan.Process);
            if (source.IsRefused) return source.Refusal!;
            sources.Add(source.Value);
        }

        if (Twice(sources) is { } refusal) return refusal;
        return sources.Select(source => new GivenReading(source.Given, source.Reading, source.KeptId, source.FirstReadUtc)).ToValueList();
    }

    /// <summary>Loads readings, each under a label of its own.</summary>
    /// <param name="names">
    /// Files, folders, or names of the archive: <c>r12</c> a reading; <c>c5</c>, a card's number or a batch for the
    /// newest reading of it.
    /// </param>
    /// <param name="archive">Where names that are no files are looked for; null looks nowhere.</param>
    /// <param name="read">Readings that were made just now; they come first.</param>
    /// <returns>
    /// The readings, labelled by the batches that their plans name where those tell them apart, else by their folders, files
    /// or names.
    /// </returns>
    public static Outcome<ValueList<LoadedReading>> Load(ValueList<string> names, ArchivePlace? archive, params IEnumerable<Reading> read)
    {
        ArgumentNullException.ThrowIfNull(names);
        List<Source> sources = [.. read.Select(JustRead)];
        foreach (string name in names)
        {
            Outcome<Source> source = SourceOf(name, archive, sources.FirstOrDefault()?.Reading.Plan.Process);
            if (source.IsRefused) return source.Refusal!;
            sources.Add(source.Value);
        }

        return Loaded(sources);
    }

    private static Source JustRead(Reading reading)
    {
        string name = OutputFolder.OfCard(OutputFolder.OfAnyCard, reading.Plan.Number);
        return new(name, $"{reading.PlanSha256} {reading.Photos[0].Sha256}", name, name, reading, null);
    }

    /// <summary>Loads readings of one card: as <see cref="Load"/> does, but a card of the archive stands for every reading of it.</summary>
    /// <param name="names">Files, folders, or names of the archive.</param>
    /// <param name="archive">Where names that are no files are looked for; null looks nowhere.</param>
    public static Outcome<ValueList<LoadedReading>> LoadRepeats(ValueList<string> names, ArchivePlace? archive)
    {
        ArgumentNullException.ThrowIfNull(names);
        List<Source> sources = [];
        foreach (string name in names)
        {
            Outcome<ValueList<Source>> found = SourcesOf(name, archive);
            if (found.IsRefused) return found.Refusal!;
            sources.AddRange(found.Value);
        }

        return Loaded(sources);
    }

    private static Outcome<ValueList<LoadedReading>> Loaded(List<Source> sources)
    {
        if (Twice(sources) is { } refusal) return refusal;
        string[] labels = Labels(sources);
        return sources.Select((source, i) => new LoadedReading(new(labels[i], source.Reading), PictureOf(source))).ToValueList();
    }

    private static Refusal? Twice(List<Source> sources) =>
        sources.GroupBy(source => source.Place).FirstOrDefault(same => same.Count() > 1) is { } twice
        ? Refusal.OfInput(Codes.ReadingTwice, ("first", twice.First().Given))
        : null;

    /// <summary>
    /// The newest reading of a name; of a batch that has engraved and cut cards, the newest of the process that is
    /// compared.
    /// </summary>
    private static Outcome<Source> SourceOf(string name, ArchivePlace? archive, Process? process = null)
    {
        Outcome<ValueList<Source>> all = SourcesOf(name, archive);
        if (all.IsRefused) return all.Refusal!;
        return all.Value.FirstOrDefault(source => process is null || source.Reading.Plan.Process == process) ?? all.Value[0];
    }

    /// <summary>Every reading of a name, one or more, the newest first.</summary>
    private static Outcome<ValueList<Source>> SourcesOf(string name, ArchivePlace? archive)
    {
        if (archive is null || !(archive.HasAllNames || MayBeKept(name))) return Filed(name);
        Outcome<ValueList<Source>> kept = archive.Use(opened => Kept(archive, opened, name));
        return kept.Refusal is { Code: Codes.ArchiveNoSuch or Codes.ArchiveMissing } unknown
            ? unknown.In(Voice.Say("workflow.no-such-file", ("name", name)))
            : kept;
    }

    /// <summary>What is no file and does not look like one.</summary>
    private static bool MayBeKept(string name) =>
        !string.IsNullOrWhiteSpace(name) && !Path.Exists(name) && !name.EndsWith(".json", StringComparison.OrdinalIgnoreCase)
        && !Path.EndsInDirectorySeparator(name);

    private static Outcome<ValueList<Source>> Filed(string path)
    {
        string file = Directory.Exists(path) ? Path.Combine(path, ReadingName) : path;
        if (Directory.Exists(path) && !Path.Exists(file) && Inside(path) is { } inside)
            return Refusal.OfInput(Codes.FileMissing, ("kind", "folder"), ("path", path), ("inside", inside));
        string plan = Path.Combine(path, PlanName);
        if (Directory.Exists(path) && !Path.Exists(file) && Path.Exists(plan))
            return Refusal.OfInput(Codes.CardUnread, ("folder", path), ("plan", plan));
        Outcome<Reading> reading = InputFile.ReadReading(file);
        if (reading.IsRefused) return reading.Refusal!;
        string place = Path.GetFullPath(file), folder = Path.GetDirectoryName(place)!;
        string picture = Path.Combine(folder, PictureName);
        ValueList<Source> one =
            [new(path, place, Path.GetFileName(folder), Path.GetFileNameWithoutExtension(place), reading.Value, picture)];
        return one;
    }

    /// <summary>The folders with readings that stand in a folder, the first few; null where there are none.</summary>
    private static Figure? Inside(string folder)
    {
        const int most = 5;
        EnumerationOptions readable = new() { IgnoreInaccessible = true };
        string[] found =
        [
            .. Directory.EnumerateDirectories(folder, "*", readable)
                .Where(each => File.Exists(Path.Combine(each, ReadingName))).Order(StringComparer.Ordinal),
        ];
        if (found.Length <= most) return found.Length == 0 ? null : List(found);
        return new Phrase("name.and-more", ("named", List(found.Take(most))), ("more", found.Length - most));
    }

    private static Outcome<ValueList<Source>> Kept(ArchivePlace place, CardArchive archive, string name)
    {
        Outcome<ArchiveSubject> subject = archive.Resolve(name);
        if (subject.IsRefused) return subject.Refusal!;
        Outcome<ValueList<ReadingEntry>> entries = archive.ReadingsOf(subject.Value);
        if (entries.IsRefused) return entries.Refusal!;
        if (entries.Value.Count == 0) return Refusal.OfInput(Codes.ArchiveNoReading, ("name", subject.Value.Name));
        List<Source> sources = [];
        foreach (ReadingEntry entry in entries.Value)
        {
            Outcome<Reading> reading = archive.Reading(entry.Id);
            if (reading.IsRefused) return reading.Refusal!;
            Outcome<ValueList<ReadingEntry>> ofCard = archive.ReadingsOf(entry.CardId);
            if (ofCard.IsRefused) return ofCard.Refusal!;
            string? picture = entry.Photos.Count > 0 ? entry.Photos[0].AnnotatedPath : null;
            sources.Add(new(name, entry.Name, name, entry.Name, reading.Value, picture)
            {
                KeptIn = place, KeptId = entry.Id, FirstReadUtc = ofCard.Value[^1].ReadUtc,
            });
        }

        return sources.ToValueList();
    }

    private static string[] Labels(List<Source> sources)
    {
        string[] batches = [.. sources.Select(each => each.Reading.Plan.Material.Batch?.Trim() ?? "")];
        if (AreLabels(batches)) return batches;
        string[] names = [.. sources.Select(each => each.Name)];
        if (AreLabels(names)) return names;
        string[] files = [.. sources.Select(each => each.File)];
        return AreLabels(files) ? files : [.. sources.Select(each => each.Place)];
    }

    private static bool AreLabels(string[] labels) =>
        labels.All(label => !string.IsNullOrWhiteSpace(label))
        && labels.Distinct(StringComparer.OrdinalIgnoreCase).Count() == labels.Length;

    private static byte[]? PictureOf(Source source)
    {
        if (source.Picture is not { } path) return null;
        if (source.KeptIn is { } archive) return archive.FileBytes(path) is { IsRefused: false } kept ? kept.Value : null;
        if (!File.Exists(path)) return null;
        Outcome<byte[]> bytes = InputFile.ReadBytes(path, "picture");
        return bytes.IsRefused ? null : bytes.Value;
    }

    /// <summary>A reading with where it came from.</summary>
    /// <param name="Given">The name that was given.</param>
    /// <param name="Place">What tells it from every other: its file's full path, or the reading's name in the archive.</param>
    /// <param name="Name">Name of its folder, or the name that was given.</param>
    /// <param name="File">Name of its file, or the reading's name in the archive.</param>
    /// <param name="Reading">The reading.</param>
    /// <param name="Picture">Where its annotated picture would be.</param>
    private sealed record Source(string Given, string Place, string Name, string File, Reading Reading, string? Picture)
    {
        /// <summary>The archive that keeps it; null where it came from a file.</summary>
        public ArchivePlace? KeptIn { get; init; }

        /// <summary>Its id in the archive; null where it came from a file.</summary>
        public long? KeptId { get; init; }

        /// <summary>When the archive had the card's first reading, UTC.</summary>
        public DateTimeOffset? FirstReadUtc { get; init; }
    }
}

/// <summary>A reading under the name that a person gave.</summary>
/// <param name="Name">The name.</param>
/// <param name="Reading">The reading.</param>
/// <param name="KeptId">Its id in the archive; null where it came from a file.</param>
/// <param name="FirstReadUtc">When the archive had the card's first reading, UTC; null likewise.</param>
internal sealed record GivenReading(string Name, Reading Reading, long? KeptId, DateTimeOffset? FirstReadUtc);

/// <summary>A reading with the annotated picture beside it.</summary>
/// <param name="Labelled">The reading under its label.</param>
/// <param name="Picture">The picture's file; null where there is none.</param>
public sealed record LoadedReading(LabelledReading Labelled, byte[]? Picture)
{
    /// <summary>The picture as the page takes it; null where there is none.</summary>
    public ComparedPicture? Compared => Picture is null ? null : new(Labelled.Label, Picture);
}
