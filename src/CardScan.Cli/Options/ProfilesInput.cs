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

    /// <summary>Lets a shell complete the names of profiles.</summary>
    /// <param name="machine">The option that takes a machine's.</param>
    /// <param name="material">The option that takes a material's; null where there is none.</param>
    public void Complete(Option<string> machine, Option<string>? material = null)
    {
        machine.CompletionSources.Add(_ => new Profiles(surroundings.ProfilesFolder).MachineNames);
        material?.CompletionSources.Add(_ => new Profiles(surroundings.ProfilesFolder).MaterialNames);
    }

    /// <summary>The same for an argument that takes a name of either kind.</summary>
    public void Complete<T>(Argument<T> name) => name.CompletionSources.Add(_ =>
    {
        Profiles profiles = new(surroundings.ProfilesFolder);
        return profiles.MachineNames.Concat(profiles.MaterialNames);
    });

    /// <summary>Says which defaults stand in for what was not given.</summary>
    public static void TellDefaults(Terminal terminal, string? machine, string? material)
    {
        if (machine is null && material is null) return;
        terminal.Note(Voice.Say("terminal.defaults-used", Figures.Known(
            ("machine", Figures.Text(machine)), ("material", Figures.Text(material)),
            ("both", Figures.Is(machine is not null && material is not null)))));
    }

    /// <summary>Warns of a name that is no profile's and looks like one.</summary>
    public static void WarnOfNear(Terminal terminal, string kind, string name, string near) =>
        terminal.Warn(Voice.Say("terminal.profile-near", ("kind", kind), ("name", name), ("near", near)));

    /// <summary>Their folder.</summary>
    public string Folder(ParseResult parsed) =>
        surroundings.At(parsed.GetValue(Option) is { } given && !string.IsNullOrWhiteSpace(given) ? given : surroundings.ProfilesFolder);
}
