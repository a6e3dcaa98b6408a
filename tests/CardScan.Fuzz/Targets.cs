using System.Text;
using CardScan.Cli;
using CardScan.Model;
using CardScan.Scoring;
using CardScan.Vision;
using OpenCvSharp;

namespace CardScan.Fuzz;

/// <summary>What is fuzzed.</summary>
internal static class Targets
{
    public static string[] Names => ["photo", "header", "plan", "reading", "profile", "bundle", "database", "command-line"];

    public static ITarget Make(string name) => name switch
    {
        "photo" => new PhotoTarget(),
        "header" => new HeaderTarget(),
        "plan" => new PlanTarget(),
        "reading" => new ReadingTarget(),
        "profile" => new ProfileTarget(),
        "bundle" => new BundleTarget(),
        "database" => new DatabaseTarget(),
        "command-line" => new CommandLineTarget(),
        _ => throw new ArgumentException($"There is no target {name}.", nameof(name)),
    };

    public static byte[] Seed(string file) => File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "seeds", file));

    public static PlanFile BirchPlan => CardJson.ReadPlan(Seed("birch-engrave.plan.json")).Value;

    /// <summary>A refusal is one line with a remedy.</summary>
    public static string? Judge(Refusal refusal) =>
        refusal.Code.Length == 0 || refusal.Seen.Length == 0 || refusal.Remedy.Length == 0
        || refusal.ToString().Contains('\n', StringComparison.Ordinal)
            ? $"bad manners: {refusal}"
            : null;
}

/// <summary>Damaged photos of every format, through the whole of the reading.</summary>
internal sealed class PhotoTarget : ITarget
{
    private readonly byte[][] _seeds;
    private readonly PlanFile _plan = Targets.BirchPlan;

    public PhotoTarget()
    {
        byte[] jpeg = Targets.Seed("birch-engrave.jpg");
        using Mat picture = Cv2.ImDecode(jpeg, ImreadModes.Color);
        using Mat small = new(), deep = new();
        Cv2.Resize(picture, small, new Size(640, 480), 0, 0, InterpolationFlags.Area);
        small.ConvertTo(deep, MatType.CV_16UC3, 257);
        _seeds =
        [
            jpeg, Targets.Seed("coated-metal-engrave.heic"), Targets.Seed("birch-engrave.avif"),
            Encoded(".jpg", small, new ImageEncodingParam(ImwriteFlags.JpegProgressive, 1)), Encoded(".png", small), Encoded(".png", deep),
            Encoded(".webp", small, new ImageEncodingParam(ImwriteFlags.WebPQuality, 80)), Encoded(".tiff", small), Encoded(".tiff", deep),
        ];

        static byte[] Encoded(string extension, Mat mat, params ImageEncodingParam[] parameters)
        {
            Cv2.ImEncode(extension, mat, out byte[] file, parameters);
            return file;
        }
    }

    public byte[] Make(Random random) => Mutations.OfBytes(_seeds[random.Next(_seeds.Length)], random);

    public string? Judge(byte[] input)
    {
        Outcome<SeenCard> outcome = OneCard.Read([new PhotoFile("photo", input)], _plan, new VisionOptions());
        return outcome.IsRefused ? Targets.Judge(outcome.Refusal!)
            : outcome.Value.Reading.Cells.Count == _plan.Plan.Cells.Count ? null
            : "cells are missing";
    }
}

/// <summary>Damaged headers alone: nothing behind them is left, so that many can be tried.</summary>
internal sealed class HeaderTarget : ITarget
{
    private readonly PhotoTarget _photos = new();

    public byte[] Make(Random random)
    {
        byte[] photo = _photos.Make(random);
        return Mutations.OfBytes(photo[..Math.Min(photo.Length, 2000)], random);
    }

    public string? Judge(byte[] input)
    {
        Outcome<DecodedPhoto> outcome = PhotoDecoder.Decode(input);
        if (outcome.IsRefused) return Targets.Judge(outcome.Refusal!);
        outcome.Value.Dispose();
        return null;
    }
}

/// <summary>Damaged plans: refused, or the same after a round trip.</summary>
internal sealed class PlanTarget : ITarget
{
    private readonly string _seed = Encoding.UTF8.GetString(Targets.Seed("birch-engrave.plan.json"));

    public byte[] Make(Random random) => Mutations.OfJson(_seed, random);

    public string? Judge(byte[] input)
    {
        Outcome<PlanFile> plan = CardJson.ReadPlan(input);
        if (plan.IsRefused) return Targets.Judge(plan.Refusal!);
        string written = CardJson.Write(plan.Value.Plan);
        Outcome<PlanFile> again = CardJson.ReadPlan(Encoding.UTF8.GetBytes(written));
        return again.IsRefused ? $"refused after a round trip: {again.Refusal}"
            : CardJson.Write(again.Value.Plan) == written ? null
            : "changed by a round trip";
    }
}

/// <summary>Damaged readings: refused, or scored without an exception.</summary>
internal sealed class ReadingTarget : ITarget
{
    private readonly string _seed = CardJson.Write(CardScorer.Score(
        OneCard.Read([new PhotoFile("photo", Targets.Seed("birch-engrave.jpg"))], Targets.BirchPlan, new VisionOptions()).Value.Reading,
        ScoringOptions.Default));

    public byte[] Make(Random random) => Mutations.OfJson(_seed, random);

    public string? Judge(byte[] input)
    {
        Outcome<Reading> reading = CardJson.ReadReading(input);
        if (reading.IsRefused) return Targets.Judge(reading.Refusal!);
        Reading scored = CardScorer.Score(reading.Value, ScoringOptions.Default);
        Outcome<Reading> again = CardJson.ReadReading(Encoding.UTF8.GetBytes(CardJson.Write(scored)));
        return again.IsRefused ? $"its scored form is refused: {again.Refusal}" : null;
    }
}

/// <summary>Damaged profiles of machines: refused, or the same after a round trip.</summary>
internal sealed class ProfileTarget : ITarget
{
    private readonly string _seed = CardJson.Write(new Machine
    {
        Name = "bench diode", RatedOpticalWatts = 10, WavelengthNm = 455, WorkArea = new() { WidthMm = 400, HeightMm = 400 },
        FastestFeedMmPerMin = 6000, FullPowerS = 1000, PoweredZ = new() { LowestMm = -5, HighestMm = 30 },
    });

    public byte[] Make(Random random) => Mutations.OfJson(_seed, random);

    public string? Judge(byte[] input)
    {
        Outcome<Machine> machine = CardJson.ReadMachine(input);
        if (machine.IsRefused) return Targets.Judge(machine.Refusal!);
        string written = CardJson.Write(machine.Value);
        Outcome<Machine> again = CardJson.ReadMachine(Encoding.UTF8.GetBytes(written));
        return again.IsRefused ? $"refused after a round trip: {again.Refusal}"
            : CardJson.Write(again.Value) == written ? null
            : "changed by a round trip";
    }
}

/// <summary>Odd command lines: an exit code that says what it is, and never "anything else".</summary>
internal sealed class CommandLineTarget : ITarget
{
    private static readonly string[] Vocabulary =
    [
        "plan", "read", "score", "next", "compare", "profile", "archive", "demo", "list", "find", "settings", "show", "note", "export",
        "import", "verify", "machine", "--help", "--version", "--json", "--plan", "--out", "--light", "front", "back", "--power", "--speed",
        "--passes", "--number", "--material",
        "--thickness", "--watts", "20:95:6", "1000,2000", "::", "1:2:0", "NaN", "-1", "1e999", "2,5", "", " ", "--", "-", "@x", "[suggest]",
        "ünï", "no-such-file", ".", "photo.jpg", "plan.json", "out",
        "--full-mark", "95", "birch [red]", "0", "250", "--unknown", "/dev/null", "--archive", "archive-here", "--no-archive", "--tag",
        "--goal", "--profiles",
    ];

    /// <summary>The first words of the vocabulary are the commands, with which most lines begin.</summary>
    private const int Commands = 7;

    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-fuzz-").FullName;
    private readonly string _before = Environment.CurrentDirectory;

    public CommandLineTarget()
    {
        Environment.CurrentDirectory = _folder;
        File.WriteAllBytes("photo.jpg", Targets.Seed("birch-engrave.jpg"));
        File.WriteAllBytes("plan.json", Targets.Seed("birch-engrave.plan.json"));
    }

    public byte[] Make(Random random) =>
        Encoding.UTF8.GetBytes(string.Join('\n', Enumerable.Range(0, random.Next(0, 9))
            .Select(i => Vocabulary[i == 0 ? random.Next(Commands) : random.Next(Vocabulary.Length)])));

    public string? Judge(byte[] input)
    {
        string[] args = input.Length == 0 ? [] : Encoding.UTF8.GetString(input).Split('\n');
        using StringWriter output = new(), errors = new();
        int code = Application.Run(args, new Terminal(output, errors, isOutputTerminal: false, isErrorTerminal: false),
            new HostEnvironment(null, Path.Combine(_folder, "profiles"), TimeProvider.System));
        if (code is 0 or 2 or 3) return code != 0 && errors.ToString().Length == 0 ? $"exit code {code} without a word" : null;
        return code == 1 && errors.ToString().Split('\n').Length == 2 && !errors.ToString().Contains("Exception", StringComparison.Ordinal)
            ? null
            : $"exit code {code}: {string.Join(' ', args)}: {errors}";
    }

    public void Dispose()
    {
        Environment.CurrentDirectory = _before;
        Directory.Delete(_folder, recursive: true);
    }
}
