using CardScan.Model;
using Dapper;
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
        if (!HasTimes(manifest)) return BundleReader.Broken("the bundle", "a time in its manifest is none");

        Dictionary<string, (PlanFile, byte[])> plans = [];
        foreach (BundleCard card in manifest.Cards)
        {
            Outcome<byte[]> json = bundle.Content($"plans/{card.PlanSha256}.json");
            if (json.IsRefused) return json.Refusal!;
            Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
            if (plan.IsRefused) return BundleReader.Broken("the bundle", $"plan {card.PlanSha256}: {plan.Refusal!.Seen}");
            plans[card.PlanSha256] = (plan.Value, json.Value);
        }

        Dictionary<string, (Reading, byte[])> readings = [];
        Dictionary<string, StagedFile> files = [];
        foreach (BundleReading entry in manifest.Readings)
        {
            Outcome<byte[]> json = bundle.Content($"readings/{entry.ReadingSha256}.json");
            if (json.IsRefused) return json.Refusal!;
            Outcome<Reading> reading = CardJson.ReadReading(json.Value);
            if (reading.IsRefused) return BundleReader.Broken("the bundle", $"reading {entry.ReadingSha256}: {reading.Refusal!.Seen}");
            if (FirstMismatch(entry, reading.Value, plans.Keys) is { } fault) return BundleReader.Broken("the bundle", fault);
            readings[entry.ReadingSha256] = (reading.Value, json.Value);
            foreach (string name in entry.Photos.Concat(entry.Annotated).Append(entry.Report).OfType<string>().Where(name => !files.ContainsKey(name)))
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
            long? id = connection.ExecuteScalar<long?>("SELECT batch.id FROM batch JOIN material ON material.id = material_id WHERE batch.name = $Name AND material.name = $Material", new { batch.Name, batch.Material });
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

    private static string? FirstMismatch(BundleReading entry, Reading reading, IEnumerable<string> plans)
    {
        if (!plans.Contains(entry.PlanSha256) || !string.Equals(reading.PlanSha256, entry.PlanSha256, StringComparison.OrdinalIgnoreCase)) return $"reading {entry.ReadingSha256} is of a plan that is not in it";
        if (entry.Photos.Count > reading.Photos.Count || entry.Annotated.Count > reading.Photos.Count) return $"reading {entry.ReadingSha256} has fewer photos than files";
        return entry.Photos.Zip(reading.Photos).Any(pair => pair.First is { } name && !string.Equals(Path.GetFileNameWithoutExtension(name), pair.Second.Sha256, StringComparison.OrdinalIgnoreCase))
            ? $"a photo of reading {entry.ReadingSha256} is not the one that was read"
            : null;
    }

    private static bool HasTimes(BundleManifest manifest) =>
        manifest.Cards.SelectMany(card => new[] { card.KeptUtc, card.ClosedUtc ?? card.KeptUtc }).Concat(manifest.Readings.Select(reading => reading.ReadUtc))
            .Concat(manifest.Cards.Select(card => card.Makers).Concat(manifest.Readings.Select(reading => reading.Makers)).Concat(manifest.Batches.Select(batch => batch.Makers)).SelectMany(makers => makers.Notes).Select(note => note.WrittenUtc))
            .All(time => Database.TryTime(time, out _));
}
