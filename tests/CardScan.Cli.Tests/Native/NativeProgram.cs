using System.Diagnostics;
using System.Runtime.InteropServices;

namespace CardScan.Cli.Tests;

/// <summary>The program as people get it: published, compiled natively ahead of time. Made once for all tests that run it.</summary>
public sealed class NativeProgram
{
    /// <summary>In a place of its own: other projects may be building in theirs. What is unchanged there is not compiled again.</summary>
    private static string Place => Path.Combine(Root, "tests", "CardScan.Cli.Tests", "obj", "native");

    private static string Root
    {
        get
        {
            string root = AppContext.BaseDirectory;
            while (!File.Exists(Path.Combine(root, "CardScan.sln"))) root = Path.GetDirectoryName(root)!;
            return root;
        }
    }

    /// <summary>Publishes; without a linker for C this says which program is missing.</summary>
    public NativeProgram()
    {
        string system = RuntimeInformation.RuntimeIdentifier;
        ProcessStartInfo start = new("dotnet",
        [
            "publish", Path.Combine(Root, "src", "CardScan.Cli"), "--configuration", "Release", "--runtime", system,
            "--artifacts-path", Place, "--disable-build-servers", "--verbosity", "quiet", "--nologo",
        ]);
        // What this test run's own build has told its processes is not for another build.
        foreach (string name in Names(start.Environment, "MSBUILD")) start.Environment.Remove(name);
        CliRun published = Run(start);
        Assert.True(published.Code == 0, $"dotnet publish: {published.Output}{published.Errors}");
        Folder = Path.Combine(Place, "publish", "CardScan.Cli", $"release_{system}");
    }

    /// <summary>The published folder.</summary>
    public string Folder { get; }

    /// <summary>The program in it.</summary>
    public string Program => Path.Combine(Folder, OperatingSystem.IsWindows() ? "cardscan.exe" : "cardscan");

    /// <summary>Runs a command in a folder, which has an archive and profiles of its own.</summary>
    internal CliRun RunIn(string folder, params string[] args) => Run(Started(folder, args));

    /// <summary>How a command is started in a folder.</summary>
    internal ProcessStartInfo Started(string folder, params string[] args)
    {
        ProcessStartInfo start = new(Program, args) { WorkingDirectory = folder };
        foreach (string name in Names(start.Environment, "CARDSCAN_")) start.Environment.Remove(name);
        start.Environment["CARDSCAN_ARCHIVE"] = Path.Combine(folder, "archive");
        start.Environment["CARDSCAN_PROFILES"] = Path.Combine(folder, "profiles");
        start.RedirectStandardOutput = start.RedirectStandardError = true;
        return start;
    }

    private static string[] Names(IDictionary<string, string?> environment, string beginning) =>
        [.. environment.Keys.Where(name => name.StartsWith(beginning, StringComparison.OrdinalIgnoreCase))];

    private static CliRun Run(ProcessStartInfo start)
    {
        start.RedirectStandardOutput = start.RedirectStandardError = true;
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync(), errors = process.StandardError.ReadToEndAsync();
        process.WaitForExit();
        return new(process.ExitCode, output.Result, errors.Result);
    }
}

/// <summary>The tests that run it.</summary>
[CollectionDefinition(nameof(NativeProgram))]
public sealed class NativeProgramGroup : ICollectionFixture<NativeProgram>;
