using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan profile</c>: machines and materials kept under their names.</summary>
internal static class ProfileCommand
{
    private const string MachineExample =
        "cardscan profile machine \"bench diode\" --watts 10 --wavelength 455 --area 400x400 --fastest-feed 6000mm/min --full-power-s 1000";

    private const string ListExample = "cardscan profile list";

    public static Command Create(Terminal terminal, HostEnvironment surroundings) => new ExplainedCommand(
        "profile", MachineExample, "cardscan profile material \"birch plywood\" --thickness 3 --batch B-0412", ListExample,
        ProfileUpkeep.DefaultExample, ProfileUpkeep.EditExample)
    {
        Machine(terminal, new(surroundings)),
        Material(terminal, new(surroundings)),
        List(terminal, new(surroundings)),
        ProfileUpkeep.Show(terminal, new(surroundings)),
        ProfileUpkeep.Edit(terminal, new(surroundings)),
        ProfileUpkeep.Default(terminal, new(surroundings)),
        ProfileUpkeep.Remove(terminal, new(surroundings)),
    };

    private static ExplainedCommand Machine(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name();
        MachineOptions options = new();
        Option<bool> replace = Replace(), json = OptionText.Json();
        ExplainedCommand command = new("profile-machine", MachineExample) { name };
        foreach (Option option in options.All.Concat([replace, input.Option, json])) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Machine? machine = options.Over(parsed.GetValue(name)!, null, parsed);
            if (machine is null) return terminal.Refuse(profiles.WattsMissing(parsed.GetValue(name)!));
            Outcome<string> saved = profiles.Save(machine, parsed.GetValue(replace));
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            return ProfileUpkeep.PrintSaved(terminal, profiles, new(new(machine, saved.Value), null), parsed.GetValue(json));
        });
        return command;
    }

    private static ExplainedCommand Material(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name();
        MaterialOptions options = new();
        Option<string?> notes = MaterialOptions.Notes();
        Option<bool> replace = Replace(), json = OptionText.Json();
        ExplainedCommand command = new("profile-material",
            "cardscan profile material \"birch plywood\" --thickness 3 --batch B-0412 --mark-power 60 --mark-speed 2000mm/min") { name };
        foreach (Option option in options.All.Concat([notes, replace, input.Option, json])) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Outcome<Material> material = options.Over(new() { Name = parsed.GetValue(name)!, Notes = parsed.GetValue(notes) }, parsed);
            Outcome<string> saved = material.IsRefused ? material.Refusal! : profiles.Save(material.Value, parsed.GetValue(replace));
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            return ProfileUpkeep.PrintSaved(terminal, profiles, new(null, new(material.Value, saved.Value)), parsed.GetValue(json));
        });
        return command;
    }

    private static ExplainedCommand List(Terminal terminal, ProfilesInput input)
    {
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("profile-list", ListExample) { input.Option, json };
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Preferences usual = ProfileUpkeep.PreferencesOf(terminal, profiles);
            KeptProfile[] kept =
            [
                .. Readable(terminal, profiles.MachineFiles(), profiles.FindMachine).Select(machine => new KeptProfile(machine, null)),
                .. Readable(terminal, profiles.MaterialFiles(), profiles.FindMaterial).Select(material => new KeptProfile(null, material)),
            ];
            if (parsed.GetValue(json))
            {
                terminal.ShowRaw(JsonText.Of(kept.Select(profile => ProfileJson.Of(profile, Profiles.IsDefault(usual, profile)))));
                return ExitCode.Done;
            }

            foreach (KeptProfile profile in kept) Print(terminal, profile, Profiles.IsDefault(usual, profile));
            if (profiles.MachineFiles().Count + profiles.MaterialFiles().Count == 0)
                terminal.ShowWrapped(Voice.Say("terminal.no-profiles", ("folder", input.Folder(parsed))));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>A line for a program; for a person the file has one of its own, so that it is never broken.</summary>
    private static void Print(Terminal terminal, KeptProfile profile, bool isDefault)
    {
        string line = Voice.Say("terminal.profile-listed", ("profile", ProfileLine.Of(profile)), ("default", Figures.Is(isDefault)));
        if (!terminal.IsOutputTerminal)
        {
            terminal.ShowLine($"{line}  {profile.Path}");
            return;
        }

        terminal.ShowText(line);
        terminal.ShowLine($"  {profile.Path}");
    }

    /// <summary>One that cannot be read is told among the others, and hides none of them.</summary>
    private static IEnumerable<Profile<T>> Readable<T>(
        Terminal terminal, IEnumerable<string> files, Func<string, Outcome<Profile<T>?>> find)
    {
        foreach (string file in files)
        {
            Outcome<Profile<T>?> found = find(file);
            if (found.Refusal is { } refusal) terminal.Warn(refusal);
            else yield return found.Value!;
        }
    }

    /// <summary>The name of a profile.</summary>
    public static Argument<string> Name() =>
        new("name") { HelpName = OptionText.Placeholder("name"), Description = Voice.Say("option.name.profile") };

    private static Option<bool> Replace() => new("--replace") { Description = Voice.Say("option.replace") };
}
