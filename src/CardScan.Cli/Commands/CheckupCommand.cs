using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan checkup</c>: what CardScan needs here, and whether it is there.</summary>
internal static class CheckupCommand
{
    /// <summary>Letters of a state and the spaces behind it.</summary>
    private const int Indent = 8;

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("checkup", "cardscan checkup") { json };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            CheckupPlaces places = new(AppContext.BaseDirectory, BuildVersion.Whole, archive.Place(parsed),
                new(surroundings.ProfilesFolder), surroundings.Browser, surroundings.LocalAddress()?.ToString());
            bool isJson = parsed.GetValue(json);
            List<CheckedPart> parts = [];
            foreach (CheckedPart part in Checkup.Run(places))
            {
                parts.Add(part);
                if (!isJson) Show(terminal, part);
            }

            CheckedPart[] faults = [.. parts.Where(part => part.Fault is not null)];
            if (isJson) terminal.ShowRaw(JsonText.Of(new JsonObject { ["parts"] = new JsonArray([.. parts.Select(InJson)]) }));
            else terminal.ShowWrapped(Voice.Say("checkup.end", ("faults", faults.Length)));
            return faults.Any(part => part.IsNeeded) ? ExitCode.Failed : ExitCode.Done;
        });
        return command;
    }

    private static string State(CheckedPart part) => part.Fault is null ? "good" : part.IsNeeded ? "broken" : "look";

    private static void Show(Terminal terminal, CheckedPart part)
    {
        string line = Voice.Say("checkup.line", ("state", State(part)), ("text", Told(part)));
        if (terminal.IsOutputTerminal) terminal.Show(new HangingText(new Text(line), 0, Indent));
        else terminal.ShowLine(line);
    }

    private static string Told(CheckedPart part) => part.Fault?.ToString() ?? Voice.Tell(part.Found!);

    private static JsonObject InJson(CheckedPart part) => new()
    {
        ["part"] = part.Part, ["state"] = State(part), ["message"] = Told(part), ["code"] = part.Fault?.Code,
    };
}
