using System.Diagnostics;
using System.Text;
using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Benchmarks;

/// <summary>
/// An archive filled with readings of one rendered card, every number of them changed, and asked questions at a tenth
/// of the way and at the end.
/// </summary>
internal static class ArchiveRun
{
    private const int ReadingsPerCard = 4, Materials = 40, BatchesPerMaterial = 10, Rounds = 21, PhotoRounds = 100;

    private static readonly Random Chance = new(1);

    public static void Run(int count)
    {
        BenchmarkPhoto photo = BenchmarkPhoto.Given();
        Reading reading = Stages.Score(new Stages(photo).Read());
        string folder = Directory.CreateTempSubdirectory("cardscan-benchmark-").FullName;
        try
        {
            using CardArchive archive = CardArchive.Open(folder, TimeProvider.System).Value;
            Console.WriteLine(
                $"{reading.Cells.Count} cells; reading.json has {Encoding.UTF8.GetByteCount(CardJson.Write(reading)):N0} bytes");
            Fill(archive, reading, 0, count / 10);
            Ask(archive, folder, count / 10);
            Fill(archive, reading, count / 10, count);
            Ask(archive, folder, count);
            KeepPhotos(archive, reading);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Keeps readings, four a card; with files of some bytes where their number matters and not their size.</summary>
    internal static void Fill(CardArchive archive, Reading reading, int from, int to, bool hasFiles = false)
    {
        // Made beforehand in portions, so that only keeping is timed.
        const int portion = 500;
        TimeSpan keeping = TimeSpan.Zero;
        for (int start = from; start < to; start += portion)
        {
            ReadingToKeep[] made = [.. Enumerable.Range(start, Math.Min(portion, to - start)).Select(i => Made(reading, i, hasFiles))];
            long begun = Stopwatch.GetTimestamp();
            foreach (ReadingToKeep what in made) _ = archive.KeepReading(what).Value;
            keeping += Stopwatch.GetElapsedTime(begun);
        }

        string files = hasFiles ? "with small files" : "photos apart";
        Console.WriteLine($"kept {from:N0} to {to:N0}: {(to - from) / keeping.TotalSeconds:N0} readings/s, {files}");
    }

    private static void Ask(CardArchive archive, string folder, int count)
    {
        long bytes = new FileInfo(Path.Combine(folder, "archive.db")).Length;
        Console.WriteLine($"{count:N0} readings: {bytes / 1e6:N0} MB, {bytes / count:N0} bytes a reading");
        Time("find by material, newest 50", () => archive.Find(new() { Material = "wood 17", Most = 50 }).Value.Count);
        Time("find by number, newest 50", () => archive.Find(new() { Number = 117, Most = 50 }).Value.Count);
        Time("find by two words, newest 50", () => archive.Find(new() { Text = "card 117 wood", Most = 50 }).Value.Count);
        Time("find by batch and date, newest 50",
            () => archive.Find(new() { Batch = "17-3", From = DateTimeOffset.UnixEpoch, Most = 50 }).Value.Count);
        Time("list, newest 50", () => archive.Find(new() { Most = 50 }).Value.Count);
        Time("open cards of a number (a photo's plan)", () => archive.OpenCards(117).Value.Count);
        Time("one reading", () => archive.Reading(count / 2).Value.Cells.Count);
        Time("best settings of one material", () => archive.Settings(new() { Material = "wood 17" }).Value.Count);
    }

    private static void Time(string what, Func<int> ask)
    {
        double[] milliseconds = new double[Rounds];
        int found = 0;
        for (int i = 0; i < Rounds; i++)
        {
            long begun = Stopwatch.GetTimestamp();
            found = ask();
            milliseconds[i] = Stopwatch.GetElapsedTime(begun).TotalMilliseconds;
        }

        Array.Sort(milliseconds);
        Console.WriteLine($"  {what,-42} {milliseconds[Rounds / 2],8:F1} ms  (slowest {milliseconds[^1]:F1}; {found} found)");
    }

    /// <summary>What a reading takes with a photo, an annotated picture and a page of usual sizes.</summary>
    private static void KeepPhotos(CardArchive archive, Reading reading)
    {
        long begun = Stopwatch.GetTimestamp();
        for (int i = 0; i < PhotoRounds; i++)
        {
            byte[] photo = Bytes(2_000_000), annotated = Bytes(1_200_000), page = Bytes(200_000);
            ReadingToKeep what = Made(reading, -1 - i);
            _ = archive.KeepReading(what with
            {
                Reading = what.Reading with { Photos = [what.Reading.Photos[0] with { Sha256 = CardJson.Sha256(photo) }] },
                Photos = [photo],
                AnnotatedPictures = [annotated],
                Report = page,
            }).Value;
        }

        Console.WriteLine($"with files of 3.4 MB: {Stopwatch.GetElapsedTime(begun).TotalMilliseconds / PhotoRounds:F1} ms a reading");
    }

    private static ReadingToKeep Made(Reading reading, int i, bool hasFiles = false)
    {
        int card = Math.Abs(i) / ReadingsPerCard, material = card % Materials;
        Plan plan = reading.Plan with
        {
            Number = card % 250,
            Title = $"card {card}",
            Material = new() { Name = $"wood {material}", ThicknessMm = 3, Batch = $"{material}-{card / Materials % BatchesPerMaterial}" },
            Fiducials = reading.Plan.Fiducials with
            {
                Markers =
                    reading.Plan.Fiducials.Markers.Select((marker, place) => marker with { Id = 4 * (card % 250) + place }).ToValueList()
            },
        };
        byte[] json = Encoding.UTF8.GetBytes(CardJson.Write(plan)), photo = Encoding.UTF8.GetBytes($"photo {i}");
        return new()
        {
            PlanJson = json,
            Photos = hasFiles ? [photo] : [],
            AnnotatedPictures = hasFiles ? [Encoding.UTF8.GetBytes($"annotated {i}")] : [],
            Report = hasFiles ? Encoding.UTF8.GetBytes($"report {i}") : default(ReadOnlyMemory<byte>),
            Reading = reading with
            {
                Plan = plan,
                PlanSha256 = CardJson.Sha256(json),
                Photos = [reading.Photos[0] with { File = $"IMG_{i}.jpg", Sha256 = CardJson.Sha256(photo) }],
                Cells = reading.Cells.Select(Changed).ToValueList(),
                Model = reading.Model is { Curve: { } curve } model
                    ? model with { Curve = curve with { Points = curve.Points.Select(Changed).ToValueList() } }
                    : reading.Model,
            },
        };
    }

    /// <summary>Every measured number another one with as many digits, so that nothing packs better than it would in real life.</summary>
    private static CellReading Changed(CellReading cell) => cell with
    {
        CenterPx = cell.CenterPx is { } center ? new(Changed(center.X), Changed(center.Y)) : null,
        Darkness = Changed(cell.Darkness),
        Lightness = Changed(cell.Lightness),
        Contrast = Changed(cell.Contrast),
        DeltaE2000 = Changed(cell.DeltaE2000),
        Evenness = Changed(cell.Evenness),
        HaloMm = Changed(cell.HaloMm),
    };

    private static Measured? Changed(Measured? measured) =>
        measured is null ? null : Measured.Of(Changed(measured.Value), Changed(measured.StandardError));

    private static CurvePoint Changed(CurvePoint point) =>
        point with { Y = Changed(point.Y), Low = Changed(point.Low), High = Changed(point.High) };

    private static double Changed(double value)
    {
        string text = value.ToString("R");
        int digits = text.Contains('.', StringComparison.Ordinal) && !text.Contains('E', StringComparison.Ordinal)
            ? text.Length - text.IndexOf('.', StringComparison.Ordinal) - 1
            : 0;
        return Math.Round(value * (1 + 0.02 * (Chance.NextDouble() - 0.5)), Math.Clamp(digits, 0, 15));
    }

    private static byte[] Bytes(int count)
    {
        byte[] bytes = new byte[count];
        Chance.NextBytes(bytes);
        return bytes;
    }
}
