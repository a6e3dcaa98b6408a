using CardScan.Language;
using CardScan.Model;
using CardScan.Workflow;
using Spectre.Console;
using static CardScan.Language.Figures;

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
        Plan plan = reading.Plan;
        string card = Voice.Say("terminal.card", ("number", plan.Number));
        terminal.Show($"[bold]{card}[/]{Part(plan.Title)}{Part(plan.Material.Name)}{Part(plan.Material.Batch)}");
        Judgement judgement = Judgement.Of(reading);
        // Whoever keeps the results in a file still sees the warning itself among the others, and both files say it once.
        string detail = judgement.Reason is { } warning && !terminal.IsOneScreen
            ? Voice.Say("judgement.see-warning", ("code", warning.Code))
            : judgement.Detail;
        string code = judgement.Reason is null || terminal.IsOneScreen ? Terminal.CodeAfter(judgement.Code) : "";
        terminal.Show($"[bold]{Markup.Escape(judgement.Lead)}[/] {Markup.Escape(detail)}{code}".TrimEnd());
    }

    /// <summary>Prints what could not be read or kept, then what is doubtful, the gravest first; exit code of the command.</summary>
    public static int PrintDoubts(Terminal terminal, ReadResult result, bool isJson)
    {
        int code = ExitCode.Done;
        foreach (RefusedPhoto photo in result.Refused)
            code = Math.Max(code, terminal.Refuse(photo.Refusal.In(Voice.Say("terminal.left-out", ("photo", photo.Name)))));
        if (result.Kept is { IsRefused: true } notKept) code = Math.Max(code, terminal.TellNotKept(notKept.Refusal!));

        // The card's head has said one of them, to whoever sees both.
        Warning? said = !isJson && terminal.IsOneScreen ? Judgement.Of(result.Reading).Reason : null;
        var alike = result.Reading.Photos
            .SelectMany(photo => Judgement.Sorted(photo.Warnings).Where(warning => !ReferenceEquals(warning, said)), (photo, warning) =>
                (photo.File, Warning: warning))
            .GroupBy(each => each.Warning.Message);
        foreach (var same in alike) terminal.Warn(same.First().Warning, string.Join(", ", same.Select(each => each.File).Distinct()));

        foreach (Warning doubt in result.Doubts) terminal.Warn(doubt);
        return code;
    }

    /// <summary>Prints a card's settings and advice.</summary>
    public static void PrintSettings(Terminal terminal, Reading reading)
    {
        foreach (FrameReading frame in reading.Photos.Select(photo => photo.Frame).OfType<FrameReading>())
            terminal.ShowText(Voice.Say("terminal.frame-sheet", ("found", frame.ToFigure())));
        if (reading.Joined is { Count: > 0 } joined)
            terminal.ShowText(Voice.Say("terminal.scored-together", ("cards", JoinedCard.ToFigure(joined))));
        // The card's head has said one; what speaks against burning the material stands before its settings.
        Advice? said = Judgement.Of(reading).Advice;
        ILookup<bool, Advice> advice =
            reading.Advice.Where(advice => !ReferenceEquals(advice, said)).ToLookup(advice => advice.IsAgainstBurning);
        foreach (Advice against in advice[true]) terminal.Advise(against);
        foreach ((int i, Recommendation recommendation) in reading.Recommendations.Index())
            Print(terminal, recommendation, reading, [.. reading.Recommendations.Take(i)]);
        if (reading.Focus is { } focus) PrintFocus(terminal, focus);
        foreach (Advice other in advice[false]) terminal.Advise(other);
    }

    private static void Print(Terminal terminal, ReadResult result)
    {
        Reading reading = result.Reading;
        PrintSettings(terminal, reading);
        if (reading.Kerf is { } kerf) terminal.ShowText(KerfLine(kerf));
        if (terminal.IsOutputTerminal)
        {
            terminal.ShowText(Voice.Say("terminal.grid-recommended", ("caption", Caption(reading))));
            foreach (Table part in Grid(reading, terminal.Width)) terminal.Show(part);
        }
        else terminal.ShowRaw(PlainGrid(reading));
        if (reading.Tones is { } tones) ToneTable.Print(terminal, tones);
        foreach (string file in result.Files) terminal.ShowLine(file);
        if (result.Kept is { IsRefused: false } kept)
            terminal.ShowLine(Voice.Say("terminal.kept", ("name", kept.Value.Name), ("new", Is(kept.Value.IsNew))));
    }

    private static string Part(string? text) => string.IsNullOrEmpty(text) ? "" : $" · {Markup.Escape(text)}";

    /// <summary>Prints a setting, without what was said of the same one for another goal.</summary>
    private static void Print(Terminal terminal, Recommendation recommendation, Reading reading, Recommendation[] before)
    {
        string goal = Markup.Escape(GoalName.Of(recommendation, reading));
        string colour = Reading.IsUnsureCut(recommendation) ? "yellow" : "green";
        string setting = Markup.Escape(SettingLine.Of(recommendation, reading));
        string confidence = recommendation.Confidence is { } p
            ? ", " + ConfidenceLine.Of(recommendation.Goal, p, recommendation.Interval)
            : "";
        terminal.Show($"[bold {colour}]{goal}[/]  [bold]{setting}[/]{confidence}");
        terminal.ShowText($"  {recommendation.ReasonBeside(before)}");
        if (!before.Any(recommendation.HasSettingOf) && CardEnd.Of(reading, recommendation) is { } end) terminal.ShowText($"  {end}");
        if (recommendation.Unburned is not { } untested) return;
        terminal.ShowText("  " + Voice.Say("terminal.untested",
            ("setting", SettingLine.Of(untested, recommendation, reading)),
            ("confidence", ConfidenceLine.Of(recommendation.Goal, untested.Confidence, untested.Interval)),
            ("reason", untested.Reason)));
    }

    private static string KerfLine(CardKerf kerf)
    {
        IEnumerable<Figure> axes = new[] { ("x", kerf.AcrossXMm), ("y", kerf.AcrossYMm) }
            .Where(axis => axis.Item2 is not null)
            .Select(axis => (Figure)new Phrase("terminal.kerf-axis", ("axis", axis.Item1), ("kerf", Length(axis.Item2!.Value)),
                ("error", Length(axis.Item2.StandardError)), ("compensation", Length(axis.Item2.Value / 2))));
        return Voice.Say("terminal.kerf", ("axes", List(axes)));
    }

    private static void PrintFocus(Terminal terminal, FocusResult focus)
    {
        bool isOneAxis = focus.AcrossX?.BestOffset is null || focus.AcrossY?.BestOffset is null;
        if (focus.OffsetMm is { } offset)
        {
            string best = Voice.Say("terminal.best-focus"), found = Voice.Say("terminal.best-focus-offset", ("offset", Offset(offset)));
            terminal.Show($"[bold green]{best}[/]  [bold]{found}[/]{(isOneAxis ? Voice.Say("terminal.best-focus-one-axis") : "")}");
        }

        foreach ((string axis, FocusAxis? known) in new[] { ("x", focus.AcrossX), ("y", focus.AcrossY) })
        {
            if (known?.BestOffset is { } best) terminal.ShowText($"  {FocusLine(axis, known, best)}");
        }
    }

    private static string FocusLine(string axis, FocusAxis known, Interval best) => Voice.Say("terminal.focus-axis", Figures.Known(
        ("axis", axis), ("offset", Offset(best.Value)), ("low", Offset(best.Low)), ("high", Offset(best.High)), ("cells", known.Cells),
        ("beam", known.Beam is { } beam ? Width(beam.Value) : null),
        ("beam-low", known.Beam is { } low ? Width(low.Low) : null), ("beam-high", known.Beam is { } high ? Width(high.High) : null)));

    private static Number Length(double mm) => Mm(mm);

    private static Number Offset(double mm) => In(Unit.OffsetMm, mm);

    private static Number Width(double mm) => Mm(mm);

    /// <summary>The grid, as many columns at once as have room.</summary>
    private static IEnumerable<Table> Grid(Reading reading, int width)
    {
        Plan plan = reading.Plan;
        HashSet<CellAddress> recommended =
            [.. reading.Recommendations.Select(recommendation => recommendation.OwnCell).OfType<CellAddress>()];
        string[][] texts = [.. Texts(reading).Select((row, r) =>
            row.Select((text, column) => recommended.Contains(new(r, column)) ? $"►{text}" : text).ToArray())];
        string[] heads = [.. plan.Columns.Values.Select(value => Value(plan.Columns, value))];
        string corner = Corner(plan).Replace("  ", "\n", StringComparison.Ordinal);
        int cell = Sides(heads.Concat(texts.SelectMany(row => row)));
        int room = width - Sides(corner.Split('\n').Concat(plan.Rows.Values.Select(value => Value(plan.Rows, value))));
        int atOnce = Math.Max(1, room / cell);
        for (int first = 0; first < heads.Length; first += atOnce)
        {
            Table table = new() { Border = TableBorder.Simple };
            Range shown = first..Math.Min(first + atOnce, heads.Length);
            foreach (string head in heads[shown].Prepend(corner)) table.AddColumn(new TableColumn(head) { NoWrap = true }.RightAligned());
            foreach ((int row, string[] values) in texts.Index())
                table.AddRow([Value(plan.Rows, plan.Rows.Values[row]), .. values[shown].Select(Marked)]);
            yield return table;
        }

        // A space on either side, and the border's one between columns.
        static int Sides(IEnumerable<string> texts) => texts.Max(text => text.Length) + 3;

        static string Marked(string text) => text.StartsWith('►') ? $"[bold green]{text}[/]" : text;
    }

    /// <summary>The grid for programs: a heading and one line a row, values apart by tabs.</summary>
    private static string PlainGrid(Reading reading)
    {
        Plan plan = reading.Plan;
        IEnumerable<string> rows =
            Texts(reading).Select((texts, row) => string.Join('\t', [Value(plan.Rows, plan.Rows.Values[row]), .. texts]));
        IEnumerable<string> columns = plan.Columns.Values.Select(value => Value(plan.Columns, value));
        string[] lines = [Caption(reading), string.Join('\t', [Corner(plan), .. columns]), .. rows];
        return string.Concat(lines.Select(line => line + "\n"));
    }

    private static IEnumerable<string[]> Texts(Reading reading)
    {
        Func<CellReading, string> text = Kind(reading) switch
        {
            "sides" => Sides,
            "char" => cell => Width(cell.HaloMm),
            "lines" => Widths,
            _ => Darkness,
        };
        ILookup<(int, int), CellReading> cells = reading.Cells.ToLookup(cell => (cell.Row, cell.Column));
        for (int row = 0; row < reading.Plan.Rows.Values.Count; row++)
        {
            int r = row;
            IEnumerable<int> columns = Enumerable.Range(0, reading.Plan.Columns.Values.Count);
            yield return [.. columns.Select(column => cells[(r, column)].Select(text).FirstOrDefault(""))];
        }
    }

    /// <summary>What the cells tell.</summary>
    private static string Kind(Reading reading) => reading.Plan switch
    {
        { Process: Process.Cut } => reading.Cells.Any(cell => cell.Sides is not null) ? "sides" : "char",
        { Kind: CardKind.FocusLadder } => "lines",
        _ => "darkness",
    };

    private static string Caption(Reading reading) => Voice.Say("terminal.grid-caption", ("kind", Kind(reading)));

    private static string Corner(Plan plan) =>
        Voice.Say("terminal.grid-corner", ("rows", Name(plan.Rows.Setting)), ("columns", Name(plan.Columns.Setting)));

    private static string Darkness(CellReading cell) =>
        IsLost(cell) ? Lost : cell.Darkness is { } darkness ? Hundredths(darkness.Value) : "–";

    private static string Widths(CellReading cell) =>
        IsLost(cell) ? Lost : $"{Width(cell.LineWidths?.AcrossXMm)} / {Width(cell.LineWidths?.AcrossYMm)}";

    private static string Width(Measured? width) => width is null ? "–" : Hundredths(width.Value);

    private static bool IsLost(CellReading cell) => cell.Flags.Any(CellFlag.IsDisqualifying);

    private static string Lost => Voice.Say("terminal.cell-lost");

    private static string Hundredths(double value) => Voice.TellBare(In(Unit.Density, value));

    private static string Sides(CellReading cell) => cell.Sides is not { } sides
        ? "–"
        : string.Concat(new[] { sides.Left, sides.Right, sides.Top, sides.Bottom }.Select(side => side.State switch
        {
            SideState.Open => '●',
            SideState.Partial => '◐',
            SideState.Closed => '○',
            _ => '?',
        }));

    private static Phrase Name(Setting setting) => new Phrase("terminal.grid-axis", ("setting", setting switch
    {
        Setting.PowerPercent => "power",
        Setting.SpeedMmPerMin => "speed",
        Setting.Passes => "passes",
        Setting.FocusOffsetMm => "focus",
        Setting.PrintedDensity => "density",
        _ => "interval",
    }));

    private static string Value(Axis axis, double value) => Voice.TellBare(In(axis.Setting switch
    {
        Setting.PowerPercent => Unit.Percent,
        Setting.SpeedMmPerMin => Unit.MmPerMin,
        Setting.Passes => Unit.None,
        Setting.PrintedDensity => Unit.Density,
        _ => Unit.Mm,
    }, value));
}
