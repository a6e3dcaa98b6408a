using System.Diagnostics;
using System.Runtime.InteropServices;

namespace CardScan.Cli.Tests;

/// <summary>The program as people get it: published, compiled natively ahead of time. Made once for all tests that run it.</summary>
public sealed class NativeProgram
{
#if DEBUG
    private const string Configuration = "Debug";
#else
    private const string Configuration = "Release";
#endif

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
        Folder = Path.Combine(Root, "tests", "CardScan.Cli.Tests", "obj", Configuration, "native");
        if (Directory.Exists(Folder)) Directory.Delete(Folder, recursive: true);
        // The stages were built before these tests; other projects may still be building, and touch them at the same time.
        ProcessStartInfo start = new("dotnet",
        [
            "publish", Path.Combine(Root, "src", "CardScan.Cli"), "--configuration", Configuration,
            "--runtime", RuntimeInformation.RuntimeIdentifier, "--output", Folder, "-p:BuildProjectReferences=false",
            "--disable-build-servers", "--verbosity", "quiet", "--nologo",
        ]);
        // What this test run's own build has told its processes is not for another build.
        foreach (string name in Names(start.Environment, "MSBUILD")) start.Environment.Remove(name);
        CliRun published = Run(start);
        Assert.True(published.Code == 0, $"dotnet publish: {published.Output}{published.Errors}");
    }

    /// <summary>The published folder.</summary>
    public string Folder { get; }

    /// <summary>The program in it.</summary>
    public string Program => Path.Combine(Folder, OperatingSystem.IsWindows() ? "cardscan.exe" : "cardscan");

    /// <summary>Runs a command in a folder, which has an archive and profiles of its own.</summary>
    internal CliRun RunIn(string folder, params string[] args) => Run(Started(folder, args));

    /// <summary>Runs a command in the same way, compiled while it runs.</summary>
    internal static CliRun RunUsualIn(string folder, params string[] args) =>
        Run(In(folder, new("dotnet", [Path.Combine(AppContext.BaseDirectory, "cardscan.dll"), .. args])));

    /// <summary>How a command is started in a folder.</summary>
    internal ProcessStartInfo Started(string folder, params string[] args) => In(folder, new(Program, args));

    private static ProcessStartInfo In(string folder, ProcessStartInfo start)
    {
        start.WorkingDirectory = folder;
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
