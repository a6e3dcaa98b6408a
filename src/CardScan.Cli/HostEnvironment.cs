namespace CardScan.Cli;

/// <summary>What the process is told by its environment; nothing else reads it.</summary>
/// <param name="ArchiveFolder">The archive that is used where none is named; null where the system has no place for one.</param>
/// <param name="ProfilesFolder">Where profiles are where no folder is named.</param>
/// <param name="Clock">The time.</param>
internal sealed record HostEnvironment(string? ArchiveFolder, string ProfilesFolder, TimeProvider Clock)
{
    /// <summary>Names the archive's folder.</summary>
    public const string ArchiveVariable = "CARDSCAN_ARCHIVE";

    /// <summary>Names the folder of profiles.</summary>
    public const string ProfilesVariable = "CARDSCAN_PROFILES";

    /// <summary>Those of this process.</summary>
    public static HostEnvironment OfProcess() => new(
        Named(ArchiveVariable) ?? UsualArchive(),
        Named(ProfilesVariable) ?? Path.Combine(Place(Environment.SpecialFolder.ApplicationData), "cardscan"),
        TimeProvider.System);

    private static string? Named(string variable) => Environment.GetEnvironmentVariable(variable) is { } named && !string.IsNullOrWhiteSpace(named) ? named : null;

    /// <summary>
    /// Where programs keep a person's data: $XDG_DATA_HOME or ~/.local/share on Linux, ~/Library/Application Support on
    /// macOS, %LOCALAPPDATA% on Windows.
    /// </summary>
    private static string? UsualArchive()
    {
        string data = Place(Environment.SpecialFolder.LocalApplicationData);
        return data.Length == 0 ? null : Path.Combine(data, "cardscan");
    }

    private static string Place(Environment.SpecialFolder folder) => Environment.GetFolderPath(folder, Environment.SpecialFolderOption.DoNotVerify);
}
