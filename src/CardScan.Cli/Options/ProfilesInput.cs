using System.CommandLine;
using CardScan.Language;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary>The option that says where the profiles are.</summary>
internal sealed class ProfilesInput(HostEnvironment surroundings)
{
    /// <summary>The option.</summary>
    public Option<string> Option { get; } = new("--profiles")
    {
        Description = Voice.Say("option.profiles", ("variable", HostEnvironment.ProfilesVariable)),
        HelpName = OptionText.Placeholder("folder"),
    };

    /// <summary>The profiles that are asked for.</summary>
    public Profiles From(ParseResult parsed) => new(Folder(parsed));

    /// <summary>Their folder.</summary>
    public string Folder(ParseResult parsed) =>
        surroundings.At(parsed.GetValue(Option) is { } given && !string.IsNullOrWhiteSpace(given) ? given : surroundings.ProfilesFolder);
}
