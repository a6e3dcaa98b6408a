using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary><c>cardscan carry</c>: what another machine may need, by the cards of the old one and the first few of the new one.</summary>
internal static class CarryCommand
{
    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        Option<string> from = Machine("--from", "option.from.carry"), to = Machine("--to", "option.to.carry");
        Option<bool> json = OptionText.Json();
        ProfilesInput profiles = new(surroundings);
        ArchiveInput archive = new(surroundings);
        ExplainedCommand command = new("carry", "cardscan carry --from \"5 W module\" --to \"12 W module\"")
        {
            from, to, json, profiles.Option,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<CarriedBook> carried =
                CarriedBook.Of(archive.Place(parsed), profiles.From(parsed), parsed.GetValue(from)!, parsed.GetValue(to)!);
            if (carried.IsRefused) return terminal.Refuse(carried.Refusal!);
            if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(InJson(carried.Value)));
            else Print(terminal, carried.Value);
            return ExitCode.Done;
        });
        return command;
    }

    private static Option<string> Machine(string name, string text) =>
        new(name) { Description = Voice.Say(text), HelpName = OptionText.Placeholder("machine"), Required = true };

    /// <summary>Prints what is carried over, with the cautions.</summary>
    public static void Print(Terminal terminal, CarriedBook book)
    {
        terminal.ShowText(Voice.Say("carry.lead", ("from", book.From.ToFigure()), ("to", book.To.ToFigure())));
        if (book.IsWavelengthUnknown) terminal.Warn(Voice.Say("carry.wavelength-unknown"));
        foreach (CarriedProcess process in book.Processes) Print(terminal, book, process);
        terminal.Warn(Voice.Say("book.caution"));
    }

    private static void Print(Terminal terminal, CarriedBook book, CarriedProcess process)
    {
        terminal.ShowLine("");
        terminal.Show($"[bold]{Markup.Escape(Voice.Say("carry.process", ("process", $"{process.Process}")))}[/]");
        terminal.ShowText(Voice.Tell(process.ToFigure()));
        foreach (LeftOutMaterial left in process.LeftOut) terminal.Warn(Voice.Tell(left.ToFigure(book.To)));
        if (process.Process == Process.Cut) terminal.ShowText(Voice.Say("carry.kerf"));
        foreach (IGrouping<string, CarriedRow> material in process.Rows.GroupBy(row => Voice.Tell(row.From.Card.MaterialFigure())))
        {
            terminal.Show($"  [bold yellow]{Markup.Escape(material.Key)}[/]");
            foreach (CarriedRow row in material) terminal.ShowText($"    {Voice.Tell(row.TryFigure())} {Voice.Tell(row.RangeFigure())}");
        }

        if (process.First.Count == 0) return;
        terminal.ShowText(Voice.Tell(process.FirstFigure()));
        foreach (CarriedRow row in process.First) terminal.ShowText($"  {PlanLine.Of(row, book.To)}");
    }

    private static JsonObject InJson(CarriedBook book) => new()
    {
        ["from"] = book.From.Name,
        ["to"] = book.To.Name,
        ["processes"] = JsonText.List(book.Processes.Select(process => new JsonObject
        {
            ["process"] = EnumName.Of(process.Process),
            ["energyFactor"] = Math.Round(process.Factor.Value, 4),
            ["energyFactorLow"] = Math.Round(process.Factor.Low, 4),
            ["energyFactorHigh"] = Math.Round(process.Factor.High, 4),
            ["burnedOnBoth"] = Names(process.BurnedOnBoth),
            ["odd"] = Names(process.Odd),
            ["leftOut"] = Names(process.LeftOut.Select(left => left.Material)),
            ["settings"] = JsonText.List(process.Rows.Select(InJson)),
            ["burnFirst"] = Names(process.First.Select(row => PlanLine.Of(row, book.To))),
        })),
    };

    private static JsonArray Names(IEnumerable<string> texts) => new([.. texts.Select(text => (JsonNode)text)]);

    private static JsonObject InJson(CarriedRow row) => new()
    {
        ["material"] = row.From.Card.Material,
        ["thicknessMm"] = row.From.Card.ThicknessMm,
        ["goal"] = row.Setting.Goal,
        ["isBurnedOnThisMachine"] = false,
        ["speedMmPerMin"] = row.Setting.SpeedMmPerMin,
        ["powerPercent"] = row.Setting.PowerPercent,
        ["passes"] = row.From.Recommendation.Passes ?? 1,
        ["speedLowMmPerMin"] = row.Setting.Speed.Low,
        ["speedHighMmPerMin"] = row.Setting.Speed.High,
        ["sameBatchSpeedLowMmPerMin"] = row.Setting.SameDelivery.Low,
        ["sameBatchSpeedHighMmPerMin"] = row.Setting.SameDelivery.High,
        ["fromReading"] = row.From.ReadingName,
    };
}
