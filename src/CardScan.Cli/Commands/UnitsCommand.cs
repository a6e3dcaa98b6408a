using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan units</c>: the unit in which speeds are told.</summary>
internal static class UnitsCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string?> unit = new("unit")
        {
            HelpName = string.Join('|', Preferences.SpeedWords), Description = Voice.Say("option.speed-unit"),
            Arity = ArgumentArity.ZeroOrOne,
        };
        unit.AcceptOnlyFromAmong([.. Preferences.SpeedWords]);
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("units", "cardscan units", "cardscan units mm/min") { unit, json };
        command.SetAction(parsed => terminal.Tell(
            Keep(new(surroundings.ProfilesFolder), Preferences.SpeedsOf(parsed.GetValue(unit))),
            parsed.GetValue(json), now => Line(surroundings, now), now => new JsonObject { ["speedUnit"] = Preferences.WordOf(now) }));
        return command;

        // The variable holds for this shell, whatever is kept.
        Outcome<SpeedUnit> Keep(Profiles profiles, SpeedUnit? chosen)
        {
            if (chosen is not { } speeds) return Voice.Speeds;
            Outcome<Preferences> before = profiles.ReadPreferences();
            if (before.IsRefused) return before.Refusal!;
            Outcome<string> saved = profiles.Save(before.Value with { Speeds = speeds });
            if (saved.IsRefused) return saved.Refusal!;
            return Preferences.SpeedsOf(surroundings.SpeedUnitWord) ?? speeds;
        }
    }

    private static string Line(HostEnvironment surroundings, SpeedUnit now) => Voice.Say("terminal.speed-unit",
        ("unit", Preferences.WordOf(now)), ("source", surroundings.SpeedUnitWord is null ? "kept" : "variable"),
        ("variable", HostEnvironment.SpeedUnitVariable));
}
