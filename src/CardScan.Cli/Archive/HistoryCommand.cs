using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;
using static CardScan.Language.Figures;

namespace CardScan.Cli;

/// <summary><c>cardscan history</c>: how a machine's need of energy changed over its cards.</summary>
internal static class HistoryCommand
{
    private static readonly string[] Columns = ["date", "card", "energy", "chart", "reading"];

    private static readonly string[] ProgramColumns = ["machine", "process", "date", "card", "energy", "limits", "reading"];

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Argument<string?> machine = new("machine")
        {
            HelpName = OptionText.Placeholder("machine"), Description = Voice.Say("option.machine.history"),
            Arity = ArgumentArity.ZeroOrOne,
        };
        Option<string> changed = new("--changed") { Description = Voice.Say("option.changed"), HelpName = OptionText.Placeholder("text") };
        Option<DateOnly?> on = QueryInput.Day("--on");
        Option<string> undo = new("--undo") { Description = Voice.Say("option.undo.change"), HelpName = OptionText.Placeholder("name") };
        Option<string> page = new("--page") { Description = Voice.Say("option.page.history"), HelpName = OptionText.Placeholder("file") };
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new(
            "history", "cardscan history", "cardscan history \"bench diode\" --changed \"cleaned the lens\"")
        {
            machine, changed, on, undo, page, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace place = archive.Place(parsed);
            bool isJson = parsed.GetValue(json);
            if (parsed.GetValue(undo) is { } name)
                return terminal.Tell(HistoryBook.RemoveChange(place, name), isJson, change => Line("history.removed", change), InJson);
            if (parsed.GetValue(changed) is { } what)
            {
                Outcome<MachineChange> added = HistoryBook.AddChange(
                    place, parsed.GetValue(machine), what, parsed.GetValue(on)?.ToDateTime(TimeOnly.MinValue));
                return terminal.Tell(added, isJson, change => Line("history.added", change), InJson);
            }

            Outcome<HistoryBook> book = HistoryBook.Of(place, parsed.GetValue(machine));
            if (book.IsRefused) return terminal.Refuse(book.Refusal!);
            if (parsed.GetValue(page) is { } file && HistoryPage.Write(book.Value, surroundings.At(file)) is { } unwritten)
                return terminal.Refuse(unwritten);
            if (isJson) terminal.ShowRaw(JsonText.Of(book.Value.Machines.Select(InJson)));
            else Print(terminal, book.Value);
            return ExitCode.Done;
        });
        return command;
    }

    private static string Line(string key, MachineChange change) => Voice.Say(
        key, ("name", change.Name), ("what", change.What), ("day", HistoryWords.Day(change.On)));

    private static void Print(Terminal terminal, HistoryBook book)
    {
        if (book.Machines.Count == 0) terminal.Note(Voice.Say("history.none"));
        if (!terminal.IsOutputTerminal)
        {
            TablePrinter.Print(terminal, ProgramColumns, [.. book.Machines.SelectMany(ProgramRows)]);
            return;
        }

        foreach (MachineHistory history in book.Machines) Print(terminal, history);
    }

    private static void Print(Terminal terminal, MachineHistory history)
    {
        terminal.Show($"[bold]{Markup.Escape(Voice.Tell(history.HeadingFigure()))}[/]");
        if (history.Newest.Drift is { } drift) terminal.Warn(HistoryWords.Warn(history.Machine, drift));
        terminal.ShowText(Voice.Tell(history.Newest.StateFigure()));
        DotLine line = DotLine.For(history.Stretches.SelectMany(stretch => stretch.Rows).Select(row => row.Point));
        foreach (MachineStretch stretch in history.Stretches)
        {
            if (stretch.After is { } change) terminal.ShowText(Voice.Tell(change.ToFigure()));
            if (stretch.Rows.Count > 0) TablePrinter.Print(terminal, Columns, [.. stretch.Rows.Select(row => Row(row, line))]);
        }

        terminal.ShowLine("");
    }

    private static string[] Row(HistoryRow row, DotLine line) =>
    [
        HistoryWords.Day(row.On), Voice.Tell(row.CardFigure()), row.Point is { } point ? Energy(point) : "–", line.Of(row.Point),
        row.Card.ReadingName,
    ];

    private static IEnumerable<string[]> ProgramRows(MachineHistory history) => history.Stretches.SelectMany(stretch => stretch.Rows)
        .Select(row => new[]
        {
            Voice.Tell(history.Machine.ToFigure()), EnumName.Of(history.Process), HistoryWords.Day(row.On), Voice.Tell(row.CardFigure()),
            row.Point is { } point ? Voice.Tell(HistoryWords.FactorOf(point)) : "",
            row.Point?.Limit is { } limit ? Voice.Tell(In(Unit.Factor, Math.Exp(limit))) : "", row.Card.ReadingName,
        });

    private static string Energy(NeedPoint point) => Voice.Tell(In(Unit.Factor, Math.Exp(point.Ln)));

    private static JsonObject InJson(MachineHistory history) => JsonText.Without(new()
    {
        ["machine"] = history.Machine.Name,
        ["ratedOpticalWatts"] = history.Machine.RatedOpticalWatts,
        ["process"] = EnumName.Of(history.Process),
        ["drift"] = history.Newest.Drift is { } drift ? InJson(history.Machine, drift) : null,
        ["cardsMissing"] = history.Newest.Chart.Missing,
        ["changes"] = JsonText.List(history.Stretches.Select(stretch => stretch.After).OfType<MachineChange>().Select(InJson)),
        ["cards"] = JsonText.List(history.Stretches.SelectMany(stretch => stretch.Rows).Select(InJson)),
    });

    private static JsonObject InJson(Machine machine, MachineDrift drift) => new()
    {
        ["energyFactor"] = drift.Change.Energy.Value,
        ["energyFactorLow"] = drift.Change.Energy.Low,
        ["energyFactorHigh"] = drift.Change.Energy.High,
        ["since"] = drift.First.Card.ReadingName,
        ["cause"] = drift.Cause,
        ["message"] = HistoryWords.Warn(machine, drift).Message,
    };

    private static JsonObject InJson(MachineChange change) => new()
    {
        ["name"] = change.Name, ["on"] = $"{change.On:yyyy-MM-ddTHH:mm:ss}", ["what"] = change.What,
    };

    private static JsonObject InJson(HistoryRow row) => JsonText.Without(new()
    {
        ["reading"] = row.Card.ReadingName,
        ["number"] = row.Card.Number,
        ["on"] = $"{row.On:yyyy-MM-ddTHH:mm:ss}",
        ["material"] = row.Card.Material.Name,
        ["thicknessMm"] = row.Card.Material.ThicknessMm,
        ["batch"] = row.Card.Material.Batch,
        ["energyFactor"] = Factor(row.Point?.Ln),
        ["energyFactorLow"] = Rounded(row.Point is { } low ? HistoryWords.FactorOf(low).Low : null),
        ["energyFactorHigh"] = Rounded(row.Point is { } high ? HistoryWords.FactorOf(high).High : null),
        ["limit"] = Factor(row.Point?.Limit),
        ["runningMean"] = Factor(row.Point?.Mean?.Ln),
        ["runningMeanLimit"] = Factor(row.Point?.Mean?.Limit),
        ["isOutside"] = row.Point?.IsOutside,
        ["isDrifting"] = row.Point?.IsDrifting,
    });

    private static double? Factor(double? ln) => Rounded(Math.Exp(ln ?? double.NaN));

    private static double? Rounded(double? factor) => factor is { } known && double.IsFinite(known) ? Math.Round(known, 4) : null;
}
