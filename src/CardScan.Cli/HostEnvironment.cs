using System.Net;
using CardScan.Web;
using CardScan.Workflow;

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

    /// <summary>Names the unit in which speeds are told.</summary>
    public const string SpeedUnitVariable = "CARDSCAN_SPEED_UNIT";

    /// <summary>Names the address of a workshop's page.</summary>
    private const string PageVariable = "CARDSCAN_PAGE";

    /// <summary>Names the browser, as other programs have it too.</summary>
    private const string BrowserVariable = "BROWSER";

    /// <summary>The browser that the page is opened in; null for the system's.</summary>
    public string? Browser { get; init; }

    /// <summary>What that variable says; null where it says nothing.</summary>
    public string? SpeedUnitWord { get; init; }

    /// <summary>Opens what is piped in; null where nothing is.</summary>
    public Func<Stream?> Piped { get; init; } = () => null;

    /// <summary>Who is at this computer, for others of a workshop.</summary>
    public string Person { get; init; } = "";

    /// <summary>Where the page of the workshop is, by its variable; null where that is not set.</summary>
    public string? PageAddress { get; init; }

    /// <summary>Finds this computer's address in its local network; null where it has none.</summary>
    public Func<IPAddress?> LocalAddress { get; init; } = () => null;

    /// <summary>
    /// The folder that relative paths start from; empty for the one that the process stands in, whose paths stay as
    /// they were typed.
    /// </summary>
    public string WorkingFolder { get; init; } = "";

    /// <summary>Those of this process.</summary>
    public static HostEnvironment OfProcess() => new(
        Named(ArchiveVariable) ?? UsualArchive(),
        Named(ProfilesVariable) ?? Path.Combine(Place(Environment.SpecialFolder.ApplicationData), "cardscan"),
        TimeProvider.System)
    {
        SpeedUnitWord = Named(SpeedUnitVariable),
        Browser = Named(BrowserVariable),
        PageAddress = Named(PageVariable),
        Person = $"{Environment.UserName}@{Environment.MachineName}",
        LocalAddress = LocalNetwork.Address,
        Piped = () => Console.IsInputRedirected ? Console.OpenStandardInput() : null,
    };

    /// <summary>A path that was typed, from the working folder on; an empty name stays one, so that it is refused as one.</summary>
    public string At(string path) => string.IsNullOrWhiteSpace(path) ? path : Path.Combine(WorkingFolder, path);

    /// <summary>The archive that was typed: a path likewise, the address of a workshop's as it is.</summary>
    public string ArchiveAt(string place) => ArchivePlace.IsAddress(place) ? place : At(place);

    /// <summary>
    /// What was typed where it is a file, a folder or a pattern of files; anything else is left as it is: it may be a
    /// name in the archive.
    /// </summary>
    public string Found(string name) => Path.Exists(At(name)) || name.AsSpan().ContainsAny('*', '?') ? At(name) : name;

    private static string? Named(string variable) =>
        Environment.GetEnvironmentVariable(variable) is { } named && !string.IsNullOrWhiteSpace(named) ? named : null;

    /// <summary>
    /// Where programs keep a person's data: $XDG_DATA_HOME or ~/.local/share on Linux, ~/Library/Application Support on
    /// macOS, %LOCALAPPDATA% on Windows.
    /// </summary>
    private static string? UsualArchive()
    {
        string data = Place(Environment.SpecialFolder.LocalApplicationData);
        return data.Length == 0 ? null : Path.Combine(data, "cardscan");
    }

    private static string Place(Environment.SpecialFolder folder) =>
        Environment.GetFolderPath(folder, Environment.SpecialFolderOption.DoNotVerify);
}
