namespace CardScan.Cli.Tests;

/// <summary>What a run of the command line left.</summary>
/// <param name="Code">Exit code.</param>
/// <param name="Output">Standard output.</param>
/// <param name="Errors">Standard error.</param>
internal sealed record CliRun(int Code, string Output, string Errors)
{
    /// <summary>The one line on standard error.</summary>
    internal string OnlyLine()
    {
        string[] lines = Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Single(lines);
        return lines[0];
    }
}

/// <summary>Runs commands inside this process, as if piped.</summary>
internal static class Cli
{
    internal static string Fixtures => Path.Combine(AppContext.BaseDirectory, "demo", "engraved-birch");

    internal static string Photo => Path.Combine(Fixtures, "birch-engrave.jpg");

    internal static string Plan => Path.Combine(Fixtures, "plan.json");

    internal static string SecondPhoto => Path.Combine(AppContext.BaseDirectory, "demo", "engraved-birch-second", "birch-second.jpg");

    internal static string SecondPlan => Path.Combine(AppContext.BaseDirectory, "demo", "engraved-birch-second", "plan.json");

    // A folder that is not there: profiles of whoever runs the tests must not matter.
    private static string NoProfiles => Path.Combine(AppContext.BaseDirectory, "no-profiles");

    /// <summary>Runs a command that knows no archive unless one is named: nobody's own is touched.</summary>
    internal static CliRun Run(params string[] args)
    {
        bool mayLeaveOut = args is ["plan" or "greys" or "read" or "score" or "next" or "compare", ..]
            && !args.Contains("--help") && !args.Contains("--archive");
        return RunWith(archiveFolder: null, mayLeaveOut ? [args[0], "--no-archive", .. args[1..]] : args);
    }

    /// <summary>Runs a command where the environment names an archive.</summary>
    internal static CliRun RunWith(string? archiveFolder, params string[] args) =>
        Run(new(archiveFolder, NoProfiles, TimeProvider.System), args);

    /// <summary>Runs a command that stands in a folder, which has an archive and profiles of its own.</summary>
    internal static CliRun RunIn(string folder, params string[] args) => Run(In(folder), args);

    /// <summary>What a process is told that stands in a folder.</summary>
    internal static HostEnvironment In(string folder) =>
        new(Path.Combine(folder, "archive"), Path.Combine(folder, "profiles"), TimeProvider.System) { WorkingFolder = folder };

    /// <summary>Runs a command with everything that its process is told.</summary>
    internal static CliRun Run(HostEnvironment surroundings, string[] args, bool isTerminal = false, int? columns = null)
    {
        using StringWriter output = new(), errors = new();
        int code = Application.Run(args, new Terminal(output, errors, isTerminal, isErrorTerminal: false, columns), surroundings);
        return new(code, output.ToString(), errors.ToString());
    }
}

/// <summary>A folder of its own for a test, deleted afterwards.</summary>
internal sealed class Scratch : IDisposable
{
    private readonly string _path = Directory.CreateTempSubdirectory("cardscan-test-").FullName;

    internal string this[string name] => Path.Combine(_path, name);

    internal string[] Files => [.. Directory.EnumerateFileSystemEntries(_path, "*", SearchOption.AllDirectories)
        .Select(path => Path.GetRelativePath(_path, path)).Order(StringComparer.Ordinal)];

    internal string Write(string name, byte[] bytes)
    {
        File.WriteAllBytes(this[name], bytes);
        return this[name];
    }

    internal string Write(string name, string text)
    {
        File.WriteAllText(this[name], text);
        return this[name];
    }

    public void Dispose() => Directory.Delete(_path, recursive: true);
}
