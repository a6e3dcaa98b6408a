using System.IO.Compression;
using System.Text;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;

namespace CardScan.Fuzz;

/// <summary>A small archive with one card, its reading, a note and a tag, in a folder of its own.</summary>
internal sealed class SeedArchive : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-fuzz-").FullName;

    public SeedArchive()
    {
        byte[] planJson = Targets.Seed("birch-engrave.plan.json"), photo = "not a photo, but kept like one"u8.ToArray();
        Reading read =
            OneCard.Read([new PhotoFile("photo", Targets.Seed("birch-engrave.jpg"))], Targets.BirchPlan, new VisionOptions()).Value.Reading;
        Reading reading =
            CardScorer.Score(read with { Photos = [read.Photos[0] with { Sha256 = CardJson.Sha256(photo) }] }, ScoringOptions.Default);
        using (CardArchive archive = CardArchive.Open(this["seed"], TimeProvider.System).Value)
        {
            KeptReading kept = archive.KeepReading(new()
            {
                PlanJson = planJson,
                Reading = reading,
                Photos = [photo],
                Report = "<html>"u8.ToArray()
            }).Value;
            archive.AddNote(archive.Resolve(kept.Name).Value, "a note");
            archive.Tag(archive.Resolve(kept.Name).Value, ["kitchen"]);
            archive.ExportBundle(new(), this["seed.zip"]);
        }

        Bundle = File.ReadAllBytes(this["seed.zip"]);
        Database = File.ReadAllBytes(Path.Combine(this["seed"], DatabaseName));
    }

    /// <summary>The database's file in an archive's folder.</summary>
    public const string DatabaseName = "archive.db";

    /// <summary>The archive as a bundle.</summary>
    public byte[] Bundle { get; }

    /// <summary>The archive's database, closed.</summary>
    public byte[] Database { get; }

    /// <summary>A path in the folder.</summary>
    public string this[string name] => Path.Combine(_folder, name);

    /// <summary>An empty folder, new at each call.</summary>
    public string Fresh()
    {
        string folder = this["fresh"];
        if (Directory.Exists(folder)) Directory.Delete(folder, recursive: true);
        return Directory.CreateDirectory(folder).FullName;
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}

/// <summary>Damaged bundles: refused and nothing kept, or taken in by an archive that is sound afterwards.</summary>
internal sealed class BundleTarget : ITarget
{
    private readonly SeedArchive _seed = new();
    private readonly Dictionary<string, byte[]> _entries;

    public BundleTarget()
    {
        using ZipArchive zip = new(new MemoryStream(_seed.Bundle), ZipArchiveMode.Read);
        _entries = zip.Entries.ToDictionary(entry => entry.FullName, Content, StringComparer.Ordinal);

        static byte[] Content(ZipArchiveEntry entry)
        {
            using Stream from = entry.Open();
            using MemoryStream to = new();
            from.CopyTo(to);
            return to.ToArray();
        }
    }

    public byte[] Make(Random random)
    {
        if (random.Next(3) == 0) return Mutations.OfBytes(_seed.Bundle, random);
        Dictionary<string, byte[]> entries = new(_entries, StringComparer.Ordinal);
        string name = entries.Keys.ElementAt(random.Next(entries.Count));
        switch (random.Next(6))
        {
            case 0: entries.Remove(name); break;
            case 1: entries[name] = Mutations.OfBytes(entries[name], random); break;
            case 2: entries[OddNames[random.Next(OddNames.Length)]] = entries[name]; break;
            case 3: SpoilUnderItsTrueName(entries, random); break;
            default: entries[ManifestName] = Mutations.OfJson(Encoding.UTF8.GetString(entries[ManifestName]), random); break;
        }

        return Zip(entries);
    }

    public string? Judge(byte[] input)
    {
        string folder = _seed.Fresh(), bundle = Path.Combine(folder, "bundle.zip");
        File.WriteAllBytes(bundle, input);
        using CardArchive archive = CardArchive.Open(Path.Combine(folder, "archive"), TimeProvider.System).Value;
        Outcome<BundlePart> imported = archive.ImportBundle(bundle);
        ArchiveHealth health = archive.Verify().Value;
        if (!health.IsSound || health.Leftovers.Count > 0)
            return $"the archive is not sound: {string.Join(" | ", health.Faults.Concat(health.Leftovers))}";
        if (Directory.EnumerateFileSystemEntries(folder).Count() != 2) return "something was written beside the archive";
        if (!imported.IsRefused) return null;
        return archive.Count(new()).Value == 0 ? Targets.Judge(imported.Refusal!) : "refused, but something was kept";
    }

    public void Dispose() => _seed.Dispose();

    private const string ManifestName = "manifest.json";

    private static readonly string[] OddNames = ["../outside.json", "/outside.json", "files/", "plans/x.json", " ", "con",
        $"files/{new string('0', 64)}.jpg", $"readings/{new string('a', 64)}.json"];

    /// <summary>A plan or reading that is damaged inside but has the right hash, as a hand that means harm would make it.</summary>
    private static void SpoilUnderItsTrueName(Dictionary<string, byte[]> entries, Random random)
    {
        string[] texts = [.. entries.Keys.Where(name =>
            name.StartsWith("plans/", StringComparison.Ordinal) || name.StartsWith("readings/", StringComparison.Ordinal))];
        string name = texts[random.Next(texts.Length)], hash = Path.GetFileNameWithoutExtension(name);
        byte[] spoilt = Mutations.OfJson(Encoding.UTF8.GetString(entries[name]), random);
        string spoiltHash = CardJson.Sha256(spoilt);
        entries.Remove(name);
        entries[name.Replace(hash, spoiltHash, StringComparison.Ordinal)] = spoilt;
        entries[ManifestName] =
            Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(entries[ManifestName]).Replace(hash, spoiltHash, StringComparison.Ordinal));
    }

    private static byte[] Zip(Dictionary<string, byte[]> entries)
    {
        using MemoryStream bytes = new();
        using (ZipArchive zip = new(bytes, ZipArchiveMode.Create, leaveOpen: true))
        {
            foreach ((string name, byte[] content) in entries)
            {
                using Stream entry = zip.CreateEntry(name).Open();
                entry.Write(content);
            }
        }

        return bytes.ToArray();
    }
}

/// <summary>Damaged databases of an archive: every question is answered or refused.</summary>
internal sealed class DatabaseTarget : ITarget
{
    private readonly SeedArchive _seed = new();

    public byte[] Make(Random random) => Mutations.OfBytes(_seed.Database, random);

    public string? Judge(byte[] input)
    {
        string folder = _seed.Fresh();
        File.WriteAllBytes(Path.Combine(folder, SeedArchive.DatabaseName), input);
        Outcome<CardArchive> opened = CardArchive.Open(folder, TimeProvider.System);
        if (opened.IsRefused) return Targets.Judge(opened.Refusal!);
        using CardArchive archive = opened.Value;
        return Refusals(archive).OfType<Refusal>().Select(Targets.Judge).FirstOrDefault(fault => fault is not null);
    }

    public void Dispose() => _seed.Dispose();

    private static IEnumerable<Refusal?> Refusals(CardArchive archive)
    {
        Outcome<ValueList<CardEntry>> cards = archive.Find(new());
        yield return cards.Refusal;
        foreach (CardEntry card in cards.IsRefused ? [] : cards.Value)
        {
            yield return archive.PlanJson(card.Id).Refusal;
            Outcome<ValueList<ReadingEntry>> readings = archive.ReadingsOf(card.Id);
            yield return readings.Refusal;
            foreach (ReadingEntry reading in readings.IsRefused ? [] : readings.Value) yield return archive.Reading(reading.Id).Refusal;
        }

        yield return archive.Settings(new()).Refusal;
        yield return archive.Verify().Refusal;
        yield return archive.KeepCard(Targets.Seed("birch-engrave.plan.json")).Refusal;
        yield return archive.Repair().Refusal;
    }
}
