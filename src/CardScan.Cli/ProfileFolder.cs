using System.CommandLine;

namespace CardScan.Cli;

/// <summary>Where profiles are: the option, else the environment's <c>CARDSCAN_PROFILES</c>, else the person's configuration folder.</summary>
internal static class ProfileFolder
{
    private const string Variable = "CARDSCAN_PROFILES";

    public static Option<string?> Option() => new("--profiles")
    {
        Description = $"Folder of machine and material profiles (default ${Variable}, else cardscan in your configuration folder)", HelpName = "folder",
    };

    /// <summary>The folder's profiles. On Linux the configuration folder is $XDG_CONFIG_HOME or ~/.config.</summary>
    public static string Of(string? given)
    {
        if (!string.IsNullOrWhiteSpace(given)) return given;
        string? variable = Environment.GetEnvironmentVariable(Variable);
        return string.IsNullOrWhiteSpace(variable)
            ? Path.Combine(Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify), "cardscan")
            : variable;
    }
}
