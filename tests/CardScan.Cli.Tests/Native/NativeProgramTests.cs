using System.Text.RegularExpressions;

namespace CardScan.Cli.Tests;

/// <summary>
/// The native program says and writes what the other tests see the same source do when it is compiled while it runs: nothing that
/// it needs has been left out.
/// </summary>
[Collection(nameof(NativeProgram))]
public sealed partial class NativeProgramTests(NativeProgram native) : IDisposable
{
    private readonly Scratch _native = new(), _usual = new();

    public void Dispose()
    {
        _native.Dispose();
        _usual.Dispose();
    }

    private static string Cut => Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");

    [InstalledFact("gcc")]
    public void A_year_with_an_archive_goes_as_it_does_otherwise()
    {
        string[][] story =
        [
            ["profile", "machine", "bench diode", "--watts", "10", "--wavelength", "455", "--area", "400x400",
                "--fastest-feed", "6000", "--full-power-s", "1000"],
            ["profile", "material", "birch plywood", "--thickness", "3", "--batch", "B-0412"],
            ["profile", "edit", "bench diode", "--fastest-feed", "100mm/s", "--json"],
            ["profile", "default", "bench diode"], ["profile", "show", "bench diode", "--json"],
            ["profile", "list"], ["profile", "list", "--json"],
            ["units", "mm/s"], ["units"], ["units", "mm/min"],
            ["plan", "--material", "birch plywood", "--cut", "--out", "first", "--json"],
            ["plan", "--material", "birch plywood", "--power", "20:95:6", "--speed", "1000,1500,2200", "--split-drawing",
                "--out", "second"],
            ["plan", "--kind", "focus-ladder", "--material", "birch plywood", "--power", "30,60", "--speed", "2000",
                "--focus-offset=-2:2:9", "--out", "third"],
            ["plan", "--material", "PVC foam", "--watts", "10", "--cut", "--out", "never"],
            ["read", Cli.Photo, "--plan", Cli.Plan, "--out", "birch"],
            ["read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--json"],
            ["read", Cut, "--plan", Path.Combine(Cut, "plan.json"), "--out", "lime"],
            ["read", Cli.Photo, "--json"], // the archive knows its plan by now
            ["score", "r1", "--full-mark", "90", "--json"], ["score", "birch/reading.json", "--tones", "8", "--at-speed", "3300"],
            ["next", "birch/reading.json", "--out", "fourth"], ["next", "r1", "--json", "--out", "fifth"],
            ["compare", "r1", "r2", "--out", "batches"], ["compare", "r1", "r2", "--json"],
            ["archive", "list"], ["archive", "list", "--json"],
            ["archive", "note", "r1", "lens", "cleaned", "before", "this", "one"], ["archive", "tag", "c1", "kitchen", "keep"],
            ["archive", "tag", "c1", "keep", "--off", "--json"], ["archive", "close", "c2", "--json"],
            ["archive", "close", "c2", "--again"],
            ["archive", "find", "kitchen", "--json"],
            ["archive", "find", "--thickness", "3", "--process", "engrave", "--from", "2020-01-01"],
            ["archive", "show", "r1"], ["archive", "show", "c1", "--json"], ["settings"], ["settings", "birch", "--json"],
            ["archive", "export", "all.zip"], ["archive", "export", "all.csv", "--json"],
            ["archive", "verify"], ["archive", "verify", "--json"], ["archive", "repair", "--json"],
            ["archive", "prune", "--superseded"], ["archive", "prune", "c3", "--really-delete", "--json"],
            ["archive", "import", "all.zip", "--json"], ["archive", "verify"],
            ["profile", "remove", "birch plywood"],
        ];
        foreach (string[] args in story) Same(args);
        Assert.Equal(Written(_usual), Written(_native));
    }

    [InstalledFact("gcc")]
    public void What_is_wrong_is_refused_in_the_same_words()
    {
        foreach (Scratch scratch in (Scratch[])[_usual, _native])
        {
            string plan = File.ReadAllText(Cli.Plan);
            scratch.Write("half.json", plan[..(plan.Length / 2)]);
            scratch.Write("wrong.json", plan.Replace("\"widthMm\"", "\"wide\"", StringComparison.Ordinal));
            scratch.Write("text.jpg", "no photo");
            Directory.CreateDirectory(scratch["archive"]);
            scratch.Write(Path.Combine("archive", "archive.db"), new byte[8192]);
        }

        string[][] wrong =
        [
            ["read", Cli.Photo, "--plan", "half.json", "--no-archive"], ["read", Cli.Photo, "--plan", "wrong.json", "--no-archive"],
            ["read", "text.jpg", "--plan", Cli.Plan, "--no-archive"], ["read", "missing.jpg", "--plan", Cli.Plan, "--no-archive"],
            ["score", "half.json", "--no-archive"], ["plan", "--pwer", "3"], ["plan", "--power", "many"], ["nonsense"],
            ["archive", "list"], ["archive", "verify", "--json"],
        ];
        foreach (string[] args in wrong) Assert.NotEqual(0, Same(args).Code);
    }

    [Theory]
    [InlineData("--help")]
    [InlineData("--version")]
    [InlineData("plan", "--help")]
    [InlineData("man")]
    [InlineData("completion", "bash")]
    [InlineData("completion", "zsh")]
    [InlineData("completion", "fish")]
    [InlineData("completion", "powershell")]
    public void What_it_says_of_itself_is_all_there(params string[] args) => Assert.Equal(0, Same(args).Code);

    [InstalledFact("gcc")]
    public void The_demo_runs()
    {
        Assert.Equal(0, native.RunIn(_native["."], "demo", "--out", "demo").Code);
        Assert.True(File.Exists(_native[Path.Combine("demo", "comparison.html")]));
    }

    [InstalledFact("gcc")]
    public void Only_what_runs_is_published()
    {
        string[] endings = [.. Directory.EnumerateFiles(native.Folder, "*", SearchOption.AllDirectories).Select(Path.GetExtension)
            .OfType<string>().Distinct().Order(StringComparer.Ordinal)];
        Assert.DoesNotContain(".dll", endings);
        Assert.DoesNotContain(".dbg", endings);
        Assert.DoesNotContain(".pdb", endings);
        Assert.DoesNotContain(".xml", endings);
    }

    /// <summary>Runs a command in both ways, each in its own folder, and expects the same of both.</summary>
    private CliRun Same(string[] args)
    {
        CliRun usual = NativeProgram.RunUsualIn(_usual["."], args), found = native.RunIn(_native["."], args);
        string command = string.Join(' ', args);
        Assert.True(usual.Code == found.Code, $"{command}: {found.Code} instead of {usual.Code}\n{found.Errors}{usual.Errors}");
        Assert.Equal($"{command}\n{Timeless(usual.Output, _usual)}", $"{command}\n{Timeless(found.Output, _native)}");
        Assert.Equal($"{command}\n{Timeless(usual.Errors, _usual)}", $"{command}\n{Timeless(found.Errors, _native)}");
        return found;
    }

    /// <summary>The files that the commands wrote where they were told to, with a short form of their content.</summary>
    private static string[] Written(Scratch scratch) =>
        [.. scratch.Files.Where(name => !name.StartsWith("archive", StringComparison.Ordinal) && File.Exists(scratch[name]))
            .Select(name => $"{name} {Short(scratch, name)}")];

    /// <summary>Zip files hold the time at which they were made; what is in them was compared by importing them.</summary>
    private static string Short(Scratch scratch, string name) => Path.GetExtension(name) is ".zip" ? ""
        : Path.GetExtension(name) is ".png" ? CardScan.Model.CardJson.Sha256(File.ReadAllBytes(scratch[name]))
        : CardScan.Model.CardJson.Sha256(System.Text.Encoding.UTF8.GetBytes(Timeless(File.ReadAllText(scratch[name]), scratch)));

    private static string Timeless(string text, Scratch scratch) =>
        Time().Replace(text.Replace(scratch["."][..^2], "HERE", StringComparison.Ordinal), "TIME");

    [GeneratedRegex(@"20\d\d-\d\d-\d\d([T ]\d\d:\d\d(:\d\d(\.\d+)?)?( UTC|Z|\+00:00)?)?", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Time();
}
