using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What is written beside every cell, in the longest form that can be read in the room there is.</summary>
/// <param name="Lines">The lines of each cell, in the order of the plan's cells.</param>
/// <param name="SizeMm">Size of the type, mm.</param>
/// <param name="IsOverCell">True where the card leaves no room between the cells, so that labels lie on their lower edges.</param>
/// <param name="KeyValues">What a label holds, for <see cref="Key"/>.</param>
internal sealed record CellLabels(
    ValueList<ValueList<string>> Lines, double SizeMm, bool IsOverCell, ValueList<(string Name, Figure Value)> KeyValues)
{
    private const double LargestMm = 2.0;

    /// <summary>A form of this size or larger is taken at once, mm.</summary>
    private const double GoodMm = 1.3;

    /// <summary>Below this, labels beside the cells are no use: they go onto the cells' lower edges, mm.</summary>
    private const double SmallestMm = 0.45;

    /// <summary>Distance of two baselines over the size of the type.</summary>
    public const double LineHeight = 1.16;

    /// <summary>How to read a label, for the key below the picture.</summary>
    public string Key => Voice.Say("page.key.labels", [("where", IsOverCell ? "over" : "beside"), .. KeyValues]);

    private sealed record Form(ValueList<(string Name, Figure Value)> Key, Func<CellReading, ValueList<string>> Lines);

    public static CellLabels For(GridCells grid, CardSpacing spacing)
    {
        Plan plan = grid.Reading.Plan;
        ValueList<CellReading> cells = plan.Cells.Select(cell => ReadingOf(grid, cell)).ToValueList();
        double heightMm = spacing.GapYMm - 2 * spacing.ReachMm(isRecommended: false) - spacing.OutlineMm;
        CellLabels? best = null;
        foreach (Form form in Forms(grid.Reading))
        {
            CellLabels labels = Fit(form, cells, spacing.PitchMm, heightMm, isOverCell: false);
            if (labels.SizeMm >= GoodMm) return labels;
            if (best is null || labels.SizeMm > best.SizeMm * 1.15) best = labels;
        }

        if (best!.SizeMm >= SmallestMm) return best;
        double lowestQuarterMm = plan.Cells.Min(cell => cell.HeightMm) / 4;
        return Fit(Forms(grid.Reading)[^1], cells, plan.Cells.Min(cell => cell.WidthMm), lowestQuarterMm, isOverCell: true);
    }

    private static CellLabels Fit(Form form, ValueList<CellReading> cells, double widthMm, double heightMm, bool isOverCell)
    {
        ValueList<ValueList<string>> lines = cells.Select(form.Lines).ToValueList();
        double longest = lines.SelectMany(each => each).Distinct(StringComparer.Ordinal).Max(Typeface.WidthOf);
        double sizeMm = Math.Min(0.9 * widthMm / longest, heightMm / (lines[0].Count * LineHeight));
        return new(lines, Math.Clamp(sizeMm, 0.05, LargestMm), isOverCell, form.Key);
    }

    private static Form[] Forms(Reading reading)
    {
        (Setting columns, Setting rows) = (reading.Plan.Columns.Setting, reading.Plan.Rows.Setting);
        Phrase? unit = rows == Setting.Passes ? null : new("page.key.setting-unit", ("setting", $"{rows}"));
        (string kind, Func<CellReading, string> finding) = Finding(reading);
        if (reading.Plan.IsPrinted) return [new([("finding", kind)], cell => [finding(cell)])];
        return
        [
            new(Key(ShownSetting.Name(rows)), cell => [$"{With(cell, columns)}  {With(cell, rows)}", finding(cell)]),
            new(Key(unit), cell => [$"{With(cell, columns)}  {Bare(cell, rows)}", finding(cell)]),
            new(Key(unit), cell => [$"{With(cell, columns)}  {Bare(cell, rows)}  {Short(finding(cell))}"]),
        ];

        ValueList<(string, Figure)> Key(Figure? down) =>
            [("columns", ShownSetting.Name(columns)), ("rows", down ?? ShownSetting.Name(rows)), ("finding", kind)];
    }

    /// <summary>What was found of a cell, and how the key explains it.</summary>
    private static (string Kind, Func<CellReading, string> Of) Finding(Reading reading)
    {
        if (reading.Cells.Any(cell => cell.Sides is not null || cell.Through is not null)) return ("open", Opened);
        return reading.Plan.Kind == CardKind.FocusLadder
            ? ("line", cell => Or(cell, ShownCell.LineWidthMm(cell) is double mm ? Voice.Tell(Mm(mm)) : null))
            : ("darkness", cell => Or(cell, cell.Darkness is { } darkness ? Darkness(darkness) : null));

        static string Or(CellReading cell, string? measured) => LeftOut(cell) ?? measured ?? Numbers.NotMeasured;
    }

    private static string Darkness(Measured darkness) => Voice.Say("picture.darkness", ("darkness", Numbers.Value(darkness, 2)));

    private static string Opened(CellReading cell) =>
        cell.Flags.Contains(CellFlag.DroppedOut) ? Voice.Say("picture.fell-out")
        : cell.Through is not null ? ShownCell.Through(cell.Through)
        : LeftOut(cell) ?? Numbers.NotMeasured;

    private static string Short(string finding) => finding == ShownCell.Through(Opening.Partial) ? Voice.Say("picture.partly") : finding;

    private static string? LeftOut(CellReading cell) =>
        cell.Flags.FirstOrDefault(CellFlag.IsDisqualifying) is { } flag ? Voice.Say("picture.left-out", ("flag", flag)) : null;

    private static string With(CellReading cell, Setting setting) =>
        cell.Settings.ValueOf(setting) is double value ? ShownSetting.Alone(setting, value) : "";

    private static string Bare(CellReading cell, Setting setting) =>
        cell.Settings.ValueOf(setting) is double value ? ShownSetting.Bare(setting, value) : "";

    /// <summary>The cell's reading, or one without measurements where the reading does not hold it.</summary>
    private static CellReading ReadingOf(GridCells grid, Cell cell) =>
        grid.At(cell.Row, cell.Column)
        ?? new() { Row = cell.Row, Column = cell.Column, Settings = grid.Reading.Plan.SettingsOf(cell) };
}
