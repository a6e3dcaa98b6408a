namespace CardScan.Cli;

/// <summary>What the process is told by its environment; nothing else reads it.</summary>
/// <param name="ArchiveFolder">The archive that is used where none is named; null where the system has no place for one.</param>
/// <param name="Clock">The time.</param>
internal sealed record Surroundings(string? ArchiveFolder, TimeProvider Clock)
{
    /// <summary>Names the archive's folder.</summary>
    public const string ArchiveVariable = "CARDSCAN_ARCHIVE";

    /// <summary>Those of this process.</summary>
    public static Surroundings OfProcess() => new(
        Environment.GetEnvironmentVariable(ArchiveVariable) is { } named && !string.IsNullOrWhiteSpace(named) ? named : UsualFolder(), TimeProvider.System);

    /// <summary>
    /// Where programs keep a person's data: $XDG_DATA_HOME or ~/.local/share on Linux, ~/Library/Application Support on
    /// macOS, %LOCALAPPDATA% on Windows.
    /// </summary>
    private static string? UsualFolder()
    {
        string data = Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify);
        return data.Length == 0 ? null : Path.Combine(data, "cardscan");
    }
}
