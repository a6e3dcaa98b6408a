using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan archive phones</c>: the phones whose tone curve is remembered.</summary>
internal static class PhonesCommand
{
    private static readonly string[] Columns = ["name", "phone", "lens", "software", "series", "newest", "seen-as", "tone-error"];

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<string> forget = new("--forget")
        {
            HelpName = OptionText.Placeholder("name"), Description = Voice.Say("option.forget-phone"),
        };
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("archive-phones", "cardscan archive phones", "cardscan archive phones --forget p1")
        {
            forget, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed => parsed.GetValue(forget) is { } name
            ? terminal.Tell(archive.Place(parsed).ForgetPhone(name), parsed.GetValue(json),
                phone => Voice.Say("terminal.phone-forgotten", ("name", phone.Name), ("phone", phone.Camera.Name)),
                phone => new JsonObject { ["forgotten"] = phone.Name })
            : List(terminal, archive.Place(parsed).Phones(), parsed.GetValue(json)));
        return command;
    }

    private static int List(Terminal terminal, Outcome<ValueList<KnownPhone>> phones, bool isJson)
    {
        if (phones.IsRefused) return terminal.Refuse(phones.Refusal!);
        if (isJson) terminal.ShowRaw(JsonText.Of(phones.Value.Select(Json)));
        else if (phones.Value.Count > 0) TablePrinter.Print(terminal, Columns, [.. phones.Value.Select(Row)]);
        terminal.Note(Voice.Say("terminal.phones", ("count", phones.Value.Count)));
        return ExitCode.Done;
    }

    private static string[] Row(KnownPhone phone)
    {
        PhotoCamera camera = phone.Entry.Camera;
        return
        [
            phone.Entry.Name, camera.Name, camera.Lens ?? "", camera.Software ?? "",
            $"{phone.Entry.Series.Count}", phone.Entry.Series[0].Day,
            Voice.Tell(In(Unit.Density, phone.HalfSeenAs)), Voice.Tell(Share(phone.DarknessScaleError)),
        ];
    }

    private static JsonObject Json(KnownPhone phone) => JsonText.Without(new()
    {
        ["phone"] = phone.Entry.Name,
        ["make"] = phone.Entry.Camera.Make,
        ["model"] = phone.Entry.Camera.Model,
        ["lens"] = phone.Entry.Camera.Lens,
        ["software"] = phone.Entry.Camera.Software,
        ["series"] = new JsonArray([.. phone.Entry.Series.Select(series => new JsonObject
        {
            ["day"] = series.Day, ["reading"] = series.ReadingName,
        })]),
        ["terms"] = new JsonArray([.. phone.Terms.Select(term => JsonValue.Create(term))]),
        ["darknessHalfSeenAs"] = phone.HalfSeenAs,
        ["darknessScaleError"] = phone.DarknessScaleError,
    });
}
