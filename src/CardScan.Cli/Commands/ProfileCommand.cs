using System.CommandLine;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan profile</c>: machines and materials kept under their names.</summary>
internal static class ProfileCommand
{
    private const string MachineExample =
        "cardscan profile machine \"bench diode\" --watts 10 --wavelength 455 --area 400x400 --fastest-feed 6000 --full-power-s 1000";

    private const string ListExample = "cardscan profile list";

    public static Command Create(Terminal terminal, HostEnvironment surroundings) => new ExplainedCommand(
        "profile", MachineExample, "cardscan profile material \"birch plywood\" --thickness 3 --batch B-0412", ListExample)
    {
        Machine(terminal, new(surroundings)),
        Material(terminal, new(surroundings)),
        List(terminal, new(surroundings)),
    };

    private static ExplainedCommand Machine(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name();
        MachineOptions options = new();
        Option<bool> replace = Replace();
        ExplainedCommand command = new("profile-machine", MachineExample) { name };
        foreach (Option option in options.All.Append(replace).Append(input.Option)) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Machine? machine = options.Over(parsed.GetValue(name)!, null, parsed);
            if (machine is null) return terminal.Refuse(profiles.WattsMissing(parsed.GetValue(name)!));
            Outcome<string> saved = profiles.Save(machine, parsed.GetValue(replace));
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            terminal.ShowLine(saved.Value);
            if (Profiles.HintFor(machine) is { } hint) terminal.Warn(hint.Message);
            return ExitCode.Done;
        });
        return command;
    }

    private static ExplainedCommand Material(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name();
        MaterialOptions options = new();
        Option<string?> notes = new("--notes") { Description = Voice.Say("option.notes"), HelpName = OptionText.Placeholder("text") };
        Option<bool> replace = Replace();
        ExplainedCommand command = new("profile-material",
            "cardscan profile material \"birch plywood\" --thickness 3 --batch B-0412 --mark-power 60 --mark-speed 2000") { name };
        foreach (Option option in options.All.Concat([notes, replace, input.Option])) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Outcome<Material> material = options.Over(new() { Name = parsed.GetValue(name)!, Notes = parsed.GetValue(notes) }, parsed);
            Outcome<string> saved = material.IsRefused
                ? material.Refusal!
                : input.From(parsed).Save(material.Value, parsed.GetValue(replace));
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            if (Profiles.DangerOf(material.Value) is { } danger) terminal.Warn(danger);
            terminal.ShowLine(saved.Value);
            return ExitCode.Done;
        });
        return command;
    }

    private static ExplainedCommand List(Terminal terminal, ProfilesInput input)
    {
        ExplainedCommand command = new("profile-list", ListExample) { input.Option };
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            foreach (string file in profiles.MachineFiles()) Show(terminal, file, profiles.FindMachine(file), ProfileLine.Of);
            foreach (string file in profiles.MaterialFiles()) Show(terminal, file, profiles.FindMaterial(file), ProfileLine.Of);
            if (profiles.MachineFiles().Count + profiles.MaterialFiles().Count == 0)
                terminal.ShowLine(Voice.Say("terminal.no-profiles", ("folder", input.Folder(parsed))));
            return ExitCode.Done;
        });
        return command;
    }

    /// <summary>One that cannot be read is told among the others, and hides none of them.</summary>
    private static void Show<T>(Terminal terminal, string file, Outcome<Profile<T>?> found, Func<T, string> line)
    {
        if (found.Refusal is { } refusal) terminal.Warn(refusal.ToString());
        else terminal.ShowLine($"{line(found.Value!.Content)}  {file}");
    }

    private static Argument<string> Name() =>
        new("name") { HelpName = OptionText.Placeholder("name"), Description = Voice.Say("option.name.profile") };

    private static Option<bool> Replace() => new("--replace") { Description = Voice.Say("option.replace") };
}
