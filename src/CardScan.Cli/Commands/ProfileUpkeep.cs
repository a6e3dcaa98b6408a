using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan profile show</c>, <c>edit</c>, <c>default</c>, <c>remove</c>: profiles that are kept already.</summary>
internal static class ProfileUpkeep
{
    public const string DefaultExample = "cardscan profile default \"bench diode\"";

    public const string EditExample = "cardscan profile edit \"bench diode\" --fastest-feed 100mm/s";

    public static ExplainedCommand Show(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name(input);
        Option<string?> kind = Kind();
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("profile-show", "cardscan profile show \"bench diode\"") { name, kind, input.Option, json };
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Outcome<KeptProfile> found = profiles.Named(parsed.GetValue(name)!, IsMachine(parsed, kind));
            if (found.IsRefused) return terminal.Refuse(found.Refusal!);
            bool isDefault = Profiles.IsDefault(PreferencesOf(terminal, profiles), found.Value);
            if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(ProfileJson.Of(found.Value, isDefault)));
            else Print(terminal, found.Value, isDefault);
            return ExitCode.Done;
        });
        return command;
    }

    public static ExplainedCommand Edit(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name(input);
        Option<string?> kind = Kind();
        MachineOptions machines = new();
        MaterialOptions materials = new();
        Option<string?> notes = MaterialOptions.Notes();
        Option<bool> json = OptionText.Json();
        Option[] ofMachine = [.. machines.All], ofMaterial = [.. materials.All, notes];
        ExplainedCommand command = new("profile-edit", EditExample) { name, kind };
        foreach (Option option in ofMachine.Concat(ofMaterial).Concat([input.Option, json])) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Outcome<KeptProfile> found = profiles.Kept(parsed.GetValue(name)!, IsMachine(parsed, kind));
            if (found.IsRefused) return terminal.Refuse(found.Refusal!);
            KeptProfile old = found.Value;
            (Option[] own, Option[] foreign) = old.Machine is null ? (ofMaterial, ofMachine) : (ofMachine, ofMaterial);
            if (foreign.FirstOrDefault(IsGiven) is { } other)
            {
                return terminal.Refuse(Refusal.OfInput(Codes.ProfileForeignOption, ("option", other.Name), ("name", old.Name),
                    ("kind", KindOf(old)), ("options", Listed(own))));
            }

            if (!own.Any(IsGiven)) return terminal.Refuse(Refusal.OfInput(Codes.ProfileNothing, ("options", Listed(own))));
            Outcome<KeptProfile> changed = Changed(old, parsed);
            return changed.IsRefused
                ? terminal.Refuse(changed.Refusal!)
                : PrintSaved(terminal, profiles, changed.Value, parsed.GetValue(json));

            bool IsGiven(Option option) => parsed.GetResult(option) is { Implicit: false };
        });
        return command;

        Outcome<KeptProfile> Changed(KeptProfile old, ParseResult parsed)
        {
            if (old.Machine is { Content: var machine })
            {
                Machine changed = machines.Over(machine.Name, machine, parsed)!;
                Outcome<string> file = Profiles.Replace(old, changed);
                return file.IsRefused ? file.Refusal! : new KeptProfile(new(changed, file.Value), null);
            }

            Outcome<Material> material = materials.Over(old.Material!.Content, parsed);
            if (material.IsRefused) return material.Refusal!;
            Material noted = material.Value with { Notes = parsed.GetValue(notes) ?? material.Value.Notes };
            Outcome<string> saved = Profiles.Replace(old, noted);
            return saved.IsRefused ? saved.Refusal! : new KeptProfile(null, new(noted, saved.Value));
        }
    }

    public static ExplainedCommand Default(Terminal terminal, ProfilesInput input)
    {
        Argument<string?> name = new("name")
        {
            HelpName = OptionText.Placeholder("name"), Description = Voice.Say("option.name.profile"), Arity = ArgumentArity.ZeroOrOne,
        };
        input.Complete(name);
        Option<string?> kind = Kind();
        Option<bool> off = new("--off") { Description = Voice.Say("option.default-off") }, json = OptionText.Json();
        ExplainedCommand command = new("profile-default", DefaultExample) { name, kind, off, input.Option, json };
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Outcome<Preferences> before = profiles.ReadPreferences();
            if (before.IsRefused) return terminal.Refuse(before.Refusal!);
            if (parsed.GetValue(name) is not { } given)
            {
                if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(ProfileJson.Of(before.Value)));
                else PrintDefaults(terminal, before.Value);
                return ExitCode.Done;
            }

            Outcome<KeptProfile> found = profiles.Kept(given, IsMachine(parsed, kind));
            if (found.IsRefused) return terminal.Refuse(found.Refusal!);
            bool isOff = parsed.GetValue(off);
            Preferences after = isOff ? Profiles.Without(before.Value, found.Value) : Profiles.WithDefault(before.Value, found.Value);
            Outcome<string> saved = profiles.Save(after);
            if (saved.IsRefused) return terminal.Refuse(saved.Refusal!);
            if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(ProfileJson.Of(after)));
            else if (isOff) terminal.ShowWrapped(Voice.Say("terminal.profile-default-off", ("name", found.Value.Name)));
            else PrintDefault(terminal, KindOf(found.Value), found.Value.Name);
            return ExitCode.Done;
        });
        return command;
    }

    public static ExplainedCommand Remove(Terminal terminal, ProfilesInput input)
    {
        Argument<string> name = Name(input);
        Option<string?> kind = Kind();
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("profile-remove", "cardscan profile remove \"birch plywood\"") { name, kind, input.Option, json };
        command.SetAction(parsed =>
        {
            Profiles profiles = input.From(parsed);
            Outcome<KeptProfile> found = profiles.Kept(parsed.GetValue(name)!, IsMachine(parsed, kind));
            if (found.IsRefused) return terminal.Refuse(found.Refusal!);
            bool wasDefault = Profiles.IsDefault(PreferencesOf(terminal, profiles), found.Value);
            return terminal.Tell(profiles.Remove(found.Value), parsed.GetValue(json),
                file => Voice.Say("terminal.profile-removed", ("file", file), ("default", Is(wasDefault))),
                file => new JsonObject { ["removed"] = file, ["wasDefault"] = wasDefault });
        });
        return command;
    }

    /// <summary>Prints a profile that was kept or changed, and what to look at again; exit code of the command.</summary>
    public static int PrintSaved(Terminal terminal, Profiles profiles, KeptProfile profile, bool isJson)
    {
        if (isJson) terminal.ShowRaw(JsonText.Of(ProfileJson.Of(profile, Profiles.IsDefault(PreferencesOf(terminal, profiles), profile))));
        else terminal.ShowLine(profile.Path);
        if (profile.Machine is { } machine)
            foreach (Advice hint in Profiles.HintsFor(machine.Content)) terminal.Warn(hint);
        if (profile.Material is { } material && Profiles.DangerOf(material.Content) is { } danger) terminal.Warn(danger);
        return ExitCode.Done;
    }

    /// <summary>The preferences; none where they cannot be read, which is said.</summary>
    public static Preferences PreferencesOf(Terminal terminal, Profiles profiles)
    {
        Outcome<Preferences> usual = profiles.ReadPreferences();
        if (usual.IsRefused) terminal.Warn(usual.Refusal!);
        return usual.IsRefused ? new() : usual.Value;
    }

    private static void Print(Terminal terminal, KeptProfile profile, bool isDefault)
    {
        foreach ((string field, Figure value) in ProfileLine.Fields(profile))
            terminal.ShowWrapped(Voice.Say("terminal.profile-field", ("field", field), ("value", value)));
        if (isDefault) terminal.ShowWrapped(Voice.Say("terminal.profile-is-default", ("kind", KindOf(profile))));
        terminal.ShowLine(Voice.Say("terminal.profile-field", ("field", "file"), ("value", profile.Path)));
    }

    private static void PrintDefaults(Terminal terminal, Preferences preferences)
    {
        PrintDefault(terminal, "machine", preferences.Machine);
        PrintDefault(terminal, "material", preferences.Material);
    }

    private static void PrintDefault(Terminal terminal, string kind, string? name) => terminal.ShowWrapped(name is null
        ? Voice.Say("terminal.profile-no-default", ("kind", kind))
        : Voice.Say("terminal.profile-default", ("kind", kind), ("name", name)));

    private static Argument<string> Name(ProfilesInput input)
    {
        Argument<string> name = ProfileCommand.Name();
        input.Complete(name);
        return name;
    }

    private static Option<string?> Kind()
    {
        Option<string?> kind = new("--kind") { Description = Voice.Say("option.profile-kind"), HelpName = "machine|material" };
        kind.AcceptOnlyFromAmong("machine", "material");
        return kind;
    }

    private static bool? IsMachine(ParseResult parsed, Option<string?> kind) =>
        parsed.GetValue(kind) is { } given ? given == "machine" : null;

    private static string KindOf(KeptProfile profile) => profile.Machine is null ? "material" : "machine";

    private static Listing Listed(IEnumerable<Option> options) => List(options.Select(option => option.Name));
}
