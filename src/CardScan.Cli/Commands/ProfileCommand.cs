using System.CommandLine;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan profile</c>: machines and materials kept under their names.</summary>
internal static class ProfileCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings) => new ExplainedCommand("profile", "Keep your machines and materials, to plan with them by name", """
        Examples:
          cardscan profile machine "bench diode" --watts 10 --wavelength 455 --area 400x400 --fastest-feed 6000 --full-power-s 1000
          cardscan profile material "birch plywood" --thickness 3 --batch B-0412
          cardscan profile list
        """)
    {
        Machine(terminal, new(surroundings)),
        Material(terminal, new(surroundings)),
        List(terminal, new(surroundings)),
    };

    private static ExplainedCommand Machine(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = new("name") { Description = "Name, as you call it" };
        MachineOptions options = new();
        Option<bool> replace = Replace();
        ExplainedCommand command = new("machine", "Keep a machine", """
            Ask the maker's data sheet for the OPTICAL watts: a diode module is often sold by what its supply draws, several times as much.
            The work area, the fastest safe feed and the S value of full power are needed for a machine file.

            Example:
              cardscan profile machine "bench diode" --watts 10 --wavelength 455 --area 400x400 --fastest-feed 6000 --full-power-s 1000
            """) { name };
        foreach (Option option in options.All.Append(replace).Append(input.Option)) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Machine? machine = options.Over(parsed.GetValue(name)!, null, parsed);
            if (machine is null) return terminal.Refuse(profiles.WattsMissing(parsed.GetValue(name)!));
            Outcome<string> saved = profiles.Save(machine, parsed.GetValue(replace));
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            terminal.ShowLine(saved.Value);
            if (CardPlanner.WattsHint(machine) is { } hint) terminal.Warn(hint.Message);
            return ExitCode.Done;
        });
        return command;
    }

    private static ExplainedCommand Material(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = new("name") { Description = "Name, as you call it" };
        MaterialOptions options = new();
        Option<string?> notes = new("--notes") { Description = "Your notes", HelpName = "text" };
        Option<bool> replace = Replace();
        ExplainedCommand command = new("material", "Keep a material", """
            Example:
              cardscan profile material "birch plywood" --thickness 3 --batch B-0412 --mark-power 60 --mark-speed 2000
            """) { name };
        foreach (Option option in options.All.Concat([notes, replace, input.Option])) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Outcome<Material> material = options.Over(new() { Name = parsed.GetValue(name)!, Notes = parsed.GetValue(notes) }, parsed);
            Outcome<string> saved = material.IsRefused ? material.Refusal! : input.From(parsed).Save(material.Value, parsed.GetValue(replace));
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            terminal.ShowLine(saved.Value);
            return ExitCode.Done;
        });
        return command;
    }

    private static ExplainedCommand List(Terminal terminal, ProfilesInput input)
    {
        ExplainedCommand command = new("list", "Show the profiles that are kept", """
            Example:
              cardscan profile list
            """) { input.Option };
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            foreach (string file in profiles.MachineFiles()) Show(terminal, file, profiles.FindMachine(file), ProfileLine.Of);
            foreach (string file in profiles.MaterialFiles()) Show(terminal, file, profiles.FindMaterial(file), ProfileLine.Of);
            if (profiles.MachineFiles().Count + profiles.MaterialFiles().Count == 0) terminal.ShowLine($"no profiles in {input.Folder(parsed)}");
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

    private static Option<bool> Replace() => new("--replace") { Description = "Replace a profile of the same name" };
}
