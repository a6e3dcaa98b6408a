using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;

namespace CardScan.Cli;

/// <summary>A reading on the terminal: the settings first, then the grid, then where the files are.</summary>
internal static class ReadingSummary
{
    /// <summary>Prints a result; exit code of the command.</summary>
    public static int Print(Terminal terminal, ReadResult result, bool isJson)
    {
        if (!isJson) PrintHead(terminal, result.Reading);
        int code = PrintDoubts(terminal, result, isJson);
        if (isJson) terminal.ShowRaw(CardJson.Write(result.Reading));
        else Print(terminal, result);
        return code;
    }

    /// <summary>Prints a card's name, and whether its reading can be used.</summary>
    public static void PrintHead(Terminal terminal, Reading reading)
    {
        terminal.Show($"[bold]Card {reading.Plan.Number}[/]{Part(reading.Plan.Title)}{Part(reading.Plan.Material.Name)}{Part(reading.Plan.Material.Batch)}");
        Judgement judgement = Judgement.Of(reading);
        terminal.Show($"[bold]{judgement.Lead}[/]{(judgement.Detail.Length == 0 ? "" : $" {Markup.Escape(judgement.Detail)}")}");
    }

    /// <summary>Prints what is doubtful, the gravest first, what could not be read and what could not be kept; exit code of the command.</summary>
    public static int PrintDoubts(Terminal terminal, ReadResult result, bool isJson)
    {
        // The card's head has said one of them, to whoever sees both.
        Warning? said = !isJson && terminal.IsOneScreen ? Judgement.Of(result.Reading).Reason : null;
        foreach (PhotoRecord photo in result.Reading.Photos)
            foreach (Warning warning in Judgement.Sorted(photo.Warnings).Where(warning => !ReferenceEquals(warning, said))) terminal.Warn($"{photo.File}: {warning.Message}");

        foreach (Warning doubt in result.Doubts) terminal.Warn(doubt.Message);
        int code = ExitCode.Done;
        foreach (RefusedPhoto photo in result.Refused) code = Math.Max(code, terminal.Refuse(photo.Refusal.In($"{photo.Name} was left out")));
        return result.Kept is { IsRefused: true } notKept ? Math.Max(code, terminal.Refuse(notKept.Refusal!)) : code;
    }

    /// <summary>Prints a card's settings and advice.</summary>
    public static void PrintSettings(Terminal terminal, Reading reading)
    {
        foreach (FrameReading frame in reading.Photos.Select(photo => photo.Frame).OfType<FrameReading>()) terminal.Show($"Frame sheet: {Markup.Escape(frame.InWords())}");
        if (reading.Joined is { Count: > 0 } joined) terminal.Show(Markup.Escape($"Scored together with {JoinedCard.InWords(joined)}"));
        foreach (Recommendation recommendation in reading.Recommendations) Print(terminal, recommendation, reading);
        if (reading.Focus is { } focus)
            foreach (string line in FocusLines(focus)) terminal.Show(line);

        Advice? said = Judgement.Of(reading).Advice;
        foreach (Advice advice in reading.Advice.Where(advice => !ReferenceEquals(advice, said))) terminal.Show($"[yellow]![/] {Markup.Escape(advice.Message)}");
    }

    private static void Print(Terminal terminal, ReadResult result)
    {
        Reading reading = result.Reading;
        PrintSettings(terminal, reading);
        if (reading.Kerf is { } kerf) terminal.Show(KerfLine(kerf));
        if (terminal.IsOutputTerminal) terminal.Show(Grid(reading));
        else terminal.ShowRaw(PlainGrid(reading));
        if (reading.Tones is { } tones) ToneTable.Print(terminal, tones);
        foreach (string file in result.Files) terminal.ShowLine(file);
        if (result.Kept is { IsRefused: false } kept) terminal.ShowLine($"Kept in the archive as {kept.Value.Name}{(kept.Value.IsNew ? "" : ", as before")}.");
    }

    private static string Part(string? text) => string.IsNullOrEmpty(text) ? "" : $" · {Markup.Escape(text)}";

    private static void Print(Terminal terminal, Recommendation recommendation, Reading reading)
    {
        string confidence = recommendation.Confidence is { } p ? $", confidence {Percent(p)}" : "";
        terminal.Show($"[bold green]{Markup.Escape(GoalWords.WithCode(recommendation, reading))}[/]  [bold]{SettingLine.Of(recommendation, reading)}[/]{confidence}");
        terminal.Show($"  {Markup.Escape(recommendation.Reason)}");
        if (recommendation.Unburned is { } unburned)
            terminal.Show($"  Not tested yet: {SettingLine.Of(unburned)}, confidence {Percent(unburned.Confidence)}. {Markup.Escape(unburned.Reason)}");
    }

    /// <summary>A probability as whole percent; no fitted model makes anything certain.</summary>
    public static string Percent(double probability) => probability switch
    {
        > 0.99 => "over 99 %",
        < 0.01 => "under 1 %",
        _ => $"{probability * 100:0} %",
    };

    private static string KerfLine(CardKerf kerf)
    {
        IEnumerable<string> axes = new[] { ("x", kerf.AcrossXMm), ("y", kerf.AcrossYMm) }
            .Where(axis => axis.Item2 is not null)
            .Select(axis => $"across {axis.Item1} {Figures.Hundredths(axis.Item2!.Value)} ± {Figures.Hundredths(axis.Item2.StandardError)} mm (compensation {Figures.Hundredths(axis.Item2.Value / 2)} mm)");
        return $"Kerf, mean of the open sides: {string.Join(", ", axes)}";
    }

    private static IEnumerable<string> FocusLines(FocusResult focus)
    {
        bool isOneAxis = focus.AcrossX?.BestOffset is null || focus.AcrossY?.BestOffset is null;
        if (focus.OffsetMm is { } offset) yield return $"[bold green]Best focus[/]  [bold]focus offset {Signed(offset)} mm[/]{(isOneAxis ? ", the best of the one axis that is known" : "")}";
        foreach ((string axis, FocusAxis? known) in new[] { ("x", focus.AcrossX), ("y", focus.AcrossY) })
        {
            if (known?.BestOffset is not { } best) continue;
            string beam = known.Beam is { } width ? $"; beam {width.Value:0.000} mm wide in focus ({width.Low:0.000} to {width.High:0.000})" : "";
            yield return $"  across {axis} {Signed(best.Value)} mm ({Signed(best.Low)} to {Signed(best.High)}, 95 % interval, {known.Cells} cells){beam}";
        }

        static string Signed(double mm) => mm.ToString("+0.00;-0.00;0.00", System.Globalization.CultureInfo.InvariantCulture);
    }

    private static Table Grid(Reading reading)
    {
        Plan plan = reading.Plan;
        HashSet<CellAddress> recommended = [.. reading.Recommendations.Select(recommendation => recommendation.OwnCell).OfType<CellAddress>()];
        Table table = new() { Border = TableBorder.Simple, Title = new($"{Caption(reading)}; ► recommended") };
        table.AddColumn(new TableColumn(Corner(plan)).RightAligned());
        foreach (double value in plan.Columns.Values) table.AddColumn(new TableColumn(Figures.Plain(value)).RightAligned());
        foreach ((int row, string[] texts) in Texts(reading).Index())
        {
            IEnumerable<string> marked = texts.Select((text, column) => recommended.Contains(new(row, column)) ? $"[bold green]►{text}[/]" : text);
            table.AddRow([Figures.Plain(plan.Rows.Values[row]), .. marked]);
        }

        return table;
    }

    /// <summary>The grid for programs: a heading and one line a row, values apart by tabs.</summary>
    private static string PlainGrid(Reading reading)
    {
        Plan plan = reading.Plan;
        IEnumerable<string> rows = Texts(reading).Select((texts, row) => string.Join('\t', [Figures.Plain(plan.Rows.Values[row]), .. texts]));
        string[] lines = [Caption(reading), string.Join('\t', [Corner(plan), .. plan.Columns.Values.Select(Figures.Plain)]), .. rows];
        return string.Concat(lines.Select(line => line + "\n"));
    }

    private static IEnumerable<string[]> Texts(Reading reading)
    {
        bool isCut = reading.Plan.Process == Process.Cut, hasSides = reading.Cells.Any(cell => cell.Sides is not null), isLadder = reading.Plan.Kind == CardKind.FocusLadder;
        ILookup<(int, int), CellReading> cells = reading.Cells.ToLookup(cell => (cell.Row, cell.Column));
        for (int row = 0; row < reading.Plan.Rows.Values.Count; row++)
        {
            int r = row;
            yield return [.. Enumerable.Range(0, reading.Plan.Columns.Values.Count)
                .Select(column => cells[(r, column)].Select(cell => isCut ? hasSides ? Sides(cell) : Width(cell.HaloMm) : isLadder ? Widths(cell) : Darkness(cell)).FirstOrDefault(""))];
        }
    }

    private static string Caption(Reading reading) => reading.Plan.Process == Process.Cut
        ? reading.Cells.Any(cell => cell.Sides is not null)
            ? "Sides left, right, top, bottom: ● through, ◐ partly, ○ closed, ? unseen; – not measured"
            : "Char beside the cut, mm; – not measured"
        : reading.Plan.Kind == CardKind.FocusLadder ? "Line width across x / across y, mm"
        : "Darkness (reflection density against the bare material)";

    private static string Corner(Plan plan) => $"{Name(plan.Rows.Setting)} ↓  {Name(plan.Columns.Setting)} →";

    private static string Darkness(CellReading cell) =>
        cell.Flags.Any(CellFlag.IsDisqualifying) ? "lost" : cell.Darkness is { } darkness ? Figures.Hundredths(darkness.Value) : "–";

    private static string Widths(CellReading cell) =>
        cell.Flags.Any(CellFlag.IsDisqualifying) ? "lost" : $"{Width(cell.LineWidths?.AcrossXMm)} / {Width(cell.LineWidths?.AcrossYMm)}";

    private static string Width(Measured? width) => width is null ? "–" : Figures.Hundredths(width.Value);

    private static string Sides(CellReading cell) => cell.Sides is not { } sides
        ? "–"
        : string.Concat(new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.Select(side => side.State switch
        {
            SideState.Open => '●',
            SideState.Partial => '◐',
            SideState.Closed => '○',
            _ => '?',
        }));

    private static string Name(Setting setting) => setting switch
    {
        Setting.PowerPercent => "power %",
        Setting.SpeedMmPerMin => "speed mm/min",
        Setting.Passes => "passes",
        Setting.FocusOffsetMm => "focus mm",
        _ => "interval mm",
    };
}
