namespace CardScan.Cli.Tests;

/// <summary>A test that runs a program of the system; skipped, and said so, on a machine without it.</summary>
public sealed class InstalledFactAttribute : FactAttribute
{
    /// <param name="program">Name of the program.</param>
    public InstalledFactAttribute(string program)
    {
        Program = program;
        string[] folders = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator);
        Skip = folders.Any(folder => File.Exists(Path.Combine(folder, program))) ? null : $"no {program} on this machine";
    }

    /// <summary>Name of the program.</summary>
    public string Program { get; }
}
