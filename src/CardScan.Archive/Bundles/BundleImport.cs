using System.Diagnostics.CodeAnalysis;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// A bundle read in full and checked, its files waiting to be placed. Plans and readings are read again when they are kept: they need
/// not all fit into memory.
/// </summary>
internal sealed class BundleImport
{
    private readonly BundleManifest _manifest;
    private readonly BundleReader _bundle;
    private readonly Staging _staging;

    private BundleImport(BundleManifest manifest, BundleReader bundle, Staging staging) =>
        (_manifest, _bundle, _staging) = (manifest, bundle, staging);

    /// <summary>Reads a bundle; nothing is kept yet.</summary>
    /// <param name="bundle">The bundle; stays open until everything is kept.</param>
    /// <param name="staging">Where its files wait.</param>
    public static Outcome<BundleImport> Read(BundleReader bundle, Staging staging)
    {
        Outcome<BundleManifest> read;
        using (FileStream scratch = staging.Scratch()) read = bundle.Manifest(scratch);
        if (read.IsRefused) return read.Refusal!;
        if (!HasTimes(read.Value)) return BundleReader.Broken(new Phrase("archive.bundle.time"));
        BundleImport import = new(read.Value, bundle, staging);
        return import.FirstFault() is { } fault ? fault : import;
    }

    private Refusal? FirstFault()
    {
        HashSet<string> plans = [];
        foreach (BundleCard card in _manifest.Cards)
        {
            if (PlanOf(card).Refusal is { } refusal) return refusal;
            plans.Add(card.PlanSha256);
        }

        foreach (BundleReading entry in _manifest.Readings)
        {
            Outcome<(Reading Reading, byte[])> read = ReadingOf(entry);
            if (read.IsRefused) return read.Refusal;
            if (FirstMismatch(entry, read.Value.Reading, plans) is { } fault)
                return BundleReader.Broken(new Phrase(fault, ("sha256", entry.ReadingSha256)));
            foreach (string name in entry.Photos.Concat(entry.Annotated).Append(entry.Report).OfType<string>())
            {
                if (Stage(name) is { } refusal) return refusal;
            }
        }

        return null;
    }

    private Refusal? Stage(string name)
    {
        StagedFile file = Staged(name);
        if (File.Exists(file.Temporary)) return null;
        using FileStream stream = file.Begin();
        if (_bundle.Content(name, stream) is { } refusal) return refusal;
        stream.Flush(flushToDisk: true);
        return null;
    }

    [return: NotNullIfNotNull(nameof(name))]
    private StagedFile? Staged(string? name) => name is null
        ? null
        : _staging.Of(Path.GetFileNameWithoutExtension(name), Path.GetExtension(name)[1..]);

    private Outcome<(PlanFile Plan, byte[] Json)> PlanOf(BundleCard card)
    {
        Outcome<byte[]> json = _bundle.Content($"plans/{card.PlanSha256}.json");
        if (json.IsRefused) return json.Refusal!;
        Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
        return plan.IsRefused ? Unreadable("archive.bundle.plan", card.PlanSha256, plan.Refusal!) : (plan.Value, json.Value);
    }

    private Outcome<(Reading Reading, byte[] Json)> ReadingOf(BundleReading entry)
    {
        Outcome<byte[]> json = _bundle.Content($"readings/{entry.ReadingSha256}.json");
        if (json.IsRefused) return json.Refusal!;
        Outcome<Reading> reading = CardJson.ReadReading(json.Value);
        return reading.IsRefused
            ? Unreadable("archive.bundle.reading", entry.ReadingSha256, reading.Refusal!)
            : (reading.Value, json.Value);
    }

    /// <summary>Keeps what the archive has not; inside a transaction of its caller.</summary>
    /// <returns>What was new; or why the bundle is not what it was when it was checked.</returns>
    public Outcome<BundlePart> Keep(Database database, FileStore files, TimeProvider clock)
    {
        NotesAndTags makers = new(database);
        CardKeeper cards = new(database, clock);
        ReadingKeeper readingKeeper = new(database, files, clock);
        int newCards = 0, newReadings = 0;
        Dictionary<string, long> cardIds = [];
        foreach (BundleCard card in _manifest.Cards)
        {
            Outcome<(PlanFile, byte[])> read = PlanOf(card);
            if (read.IsRefused) return read.Refusal!;
            (PlanFile plan, byte[] json) = read.Value;
            KeptCard kept = cards.Keep(plan, json, card.KeptUtc, card.ClosedUtc);
            cardIds[card.PlanSha256] = kept.Id;
            if (kept.IsNew) newCards++;
            Write(makers, new(kept.Name, CardId: kept.Id), card.Makers);
        }

        foreach (BundleReading entry in _manifest.Readings)
        {
            Outcome<(Reading, byte[])> read = ReadingOf(entry);
            if (read.IsRefused) return read.Refusal!;
            (Reading reading, byte[] json) = read.Value;
            StagedReading own = new([.. entry.Photos.Select(Staged)], [.. entry.Annotated.Select(Staged)], Staged(entry.Report));
            KeptReading kept = readingKeeper.Keep(cardIds[entry.PlanSha256], reading, json, own, entry.ReadUtc);
            if (kept.IsNew) newReadings++;
            Write(makers, new(kept.Name, ReadingId: kept.Id), entry.Makers);
        }

        foreach (BundleBatch batch in _manifest.Batches)
        {
            long? id = database.Number(
                """
                SELECT batch.id FROM batch JOIN material ON material.id = material_id
                WHERE batch.name = @Name AND material.name = @Material
                """, ("Name", batch.Name), ("Material", batch.Material));
            if (id is { } known) Write(makers, new(batch.Name, BatchId: known), batch.Makers);
        }

        HistoryKeeper history = new(database);
        foreach (BundleChange change in _manifest.MachineChanges)
        {
            long? machine = database.Number(
                "SELECT id FROM machine WHERE name = @name AND rated_optical_watts = @watts",
                ("name", change.Machine), ("watts", change.RatedOpticalWatts));
            if (machine is { } known) history.AddOnce(known, change.DoneOn, change.What);
        }

        return new BundlePart(newCards, newReadings);
    }

    private static void Write(NotesAndTags makers, ArchiveSubject on, MakersPart part)
    {
        foreach (BundleNote note in part.Notes) makers.AddNote(on, note.Text, note.WrittenUtc);
        if (part.Tags.Count > 0) makers.Tag(on, part.Tags, isOff: false);
    }

    private static Refusal Unreadable(string code, string sha256, Refusal refusal) =>
        BundleReader.Broken(new Phrase(code, ("sha256", sha256), ("seen", refusal.Seen)));

    /// <summary>Code of what is wrong with a reading of a bundle, or null.</summary>
    private static string? FirstMismatch(BundleReading entry, Reading reading, HashSet<string> plans)
    {
        if (!plans.Contains(entry.PlanSha256) || !Same(reading.PlanSha256, entry.PlanSha256)) return "archive.bundle.other-plan";
        if (entry.Photos.Count > reading.Photos.Count || entry.Annotated.Count > reading.Photos.Count) return "archive.bundle.few-photos";
        return entry.Photos.Zip(reading.Photos).All(pair => pair.First is not { } name || IsOf(name, pair.Second))
            ? null
            : "archive.bundle.other-photo";

        static bool IsOf(string name, PhotoRecord photo) => Same(Path.GetFileNameWithoutExtension(name), photo.Sha256);
    }

    private static bool Same(string? sha256, string? other) => string.Equals(sha256, other, StringComparison.OrdinalIgnoreCase);

    private static bool HasTimes(BundleManifest manifest)
    {
        IEnumerable<MakersPart> makers =
        [
            .. manifest.Cards.Select(card => card.Makers),
            .. manifest.Readings.Select(reading => reading.Makers),
            .. manifest.Batches.Select(batch => batch.Makers),
        ];
        return manifest.Cards.SelectMany(card => new[] { card.KeptUtc, card.ClosedUtc ?? card.KeptUtc })
            .Concat(manifest.Readings.Select(reading => reading.ReadUtc))
            .Concat(makers.SelectMany(part => part.Notes).Select(note => note.WrittenUtc))
            .All(time => Database.TryTime(time, out _))
            && manifest.MachineChanges.All(change => HistoryKeeper.TryLocalTime(change.DoneOn, out _));
    }
}
