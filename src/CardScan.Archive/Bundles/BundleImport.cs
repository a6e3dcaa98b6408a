using CardScan.Language;
using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>A bundle read in full, checked, its files waiting to be placed.</summary>
/// <param name="manifest">What it holds.</param>
/// <param name="plans">Plans by fingerprint, with the bytes of their files.</param>
/// <param name="readings">Readings by fingerprint, likewise.</param>
/// <param name="staged">Files by their names in the bundle.</param>
internal sealed class BundleImport(
    BundleManifest manifest,
    Dictionary<string, (PlanFile Plan, byte[] Json)> plans,
    Dictionary<string, (Reading Reading, byte[] Json)> readings,
    Dictionary<string, StagedFile> staged)
{
    /// <summary>Reads a bundle; nothing is kept yet.</summary>
    public static Outcome<BundleImport> Read(BundleReader bundle, Staging staging)
    {
        Outcome<BundleManifest> read = bundle.Manifest();
        if (read.IsRefused) return read.Refusal!;
        BundleManifest manifest = read.Value;
        if (!HasTimes(manifest)) return BundleReader.Broken(new Phrase("archive.bundle.time"));

        Dictionary<string, (PlanFile, byte[])> plans = [];
        foreach (BundleCard card in manifest.Cards)
        {
            Outcome<byte[]> json = bundle.Content($"plans/{card.PlanSha256}.json");
            if (json.IsRefused) return json.Refusal!;
            Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
            if (plan.IsRefused) return Unreadable("archive.bundle.plan", card.PlanSha256, plan.Refusal!);
            plans[card.PlanSha256] = (plan.Value, json.Value);
        }

        Dictionary<string, (Reading, byte[])> readings = [];
        Dictionary<string, StagedFile> files = [];
        foreach (BundleReading entry in manifest.Readings)
        {
            Outcome<byte[]> json = bundle.Content($"readings/{entry.ReadingSha256}.json");
            if (json.IsRefused) return json.Refusal!;
            Outcome<Reading> reading = CardJson.ReadReading(json.Value);
            if (reading.IsRefused) return Unreadable("archive.bundle.reading", entry.ReadingSha256, reading.Refusal!);
            if (FirstMismatch(entry, reading.Value, plans.Keys) is { } fault)
                return BundleReader.Broken(new Phrase(fault, ("sha256", entry.ReadingSha256)));
            readings[entry.ReadingSha256] = (reading.Value, json.Value);
            IEnumerable<string> names = entry.Photos.Concat(entry.Annotated).Append(entry.Report).OfType<string>();
            foreach (string name in names.Where(name => !files.ContainsKey(name)))
            {
                Outcome<byte[]> bytes = bundle.Content(name);
                if (bytes.IsRefused) return bytes.Refusal!;
                files[name] = staging.Add(bytes.Value, Path.GetExtension(name)[1..]);
            }
        }

        return new BundleImport(manifest, plans, readings, files);
    }

    /// <summary>Keeps what the archive has not; inside a transaction of its caller.</summary>
    public BundlePart Keep(SqliteConnection connection, FileStore files, TimeProvider clock)
    {
        NotesAndTags makers = new(connection);
        CardKeeper cards = new(connection, clock);
        ReadingKeeper readingKeeper = new(connection, files, clock);
        int newCards = 0, newReadings = 0;
        Dictionary<string, long> cardIds = [];
        foreach (BundleCard card in manifest.Cards)
        {
            (PlanFile plan, byte[] json) = plans[card.PlanSha256];
            KeptCard kept = cards.Keep(plan, json, card.KeptUtc, card.ClosedUtc);
            cardIds[card.PlanSha256] = kept.Id;
            if (kept.IsNew) newCards++;
            Write(makers, new(kept.Name, CardId: kept.Id), card.Makers);
        }

        foreach (BundleReading entry in manifest.Readings)
        {
            (Reading reading, byte[] json) = readings[entry.ReadingSha256];
            StagedReading own = new([.. entry.Photos.Select(Staged)], [.. entry.Annotated.Select(Staged)], Staged(entry.Report));
            KeptReading kept = readingKeeper.Keep(cardIds[entry.PlanSha256], reading, json, own, entry.ReadUtc);
            if (kept.IsNew) newReadings++;
            Write(makers, new(kept.Name, ReadingId: kept.Id), entry.Makers);
        }

        foreach (BundleBatch batch in manifest.Batches)
        {
            long? id = connection.Number(
                """
                SELECT batch.id FROM batch JOIN material ON material.id = material_id
                WHERE batch.name = $Name AND material.name = $Material
                """, ("Name", batch.Name), ("Material", batch.Material));
            if (id is { } known) Write(makers, new(batch.Name, BatchId: known), batch.Makers);
        }

        return new(newCards, newReadings);

        StagedFile? Staged(string? name) => name is null ? null : staged[name];
    }

    private static void Write(NotesAndTags makers, ArchiveSubject on, MakersPart part)
    {
        foreach (BundleNote note in part.Notes) makers.AddNote(on, note.Text, note.WrittenUtc);
        if (part.Tags.Count > 0) makers.Tag(on, part.Tags, isOff: false);
    }

    private static Refusal Unreadable(string code, string sha256, Refusal refusal) =>
        BundleReader.Broken(new Phrase(code, ("sha256", sha256), ("seen", refusal.Seen)));

    /// <summary>Code of what is wrong with a reading of a bundle, or null.</summary>
    private static string? FirstMismatch(BundleReading entry, Reading reading, IEnumerable<string> plans)
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
            .All(time => Database.TryTime(time, out _));
    }
}
