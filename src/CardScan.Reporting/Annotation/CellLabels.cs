using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>What is written beside every cell, in the longest form that can be read in the room there is.</summary>
/// <param name="Lines">The lines of each cell, in the order of the plan's cells.</param>
/// <param name="SizeMm">Size of the type, mm.</param>
/// <param name="IsOverCell">True where the card leaves no room between the cells, so that labels lie on their lower edges.</param>
/// <param name="Key">How to read a label, for the key below the picture.</param>
internal sealed record CellLabels(ValueList<ValueList<string>> Lines, double SizeMm, bool IsOverCell, string Key)
{
    private const double LargestMm = 2.0;

    /// <summary>A form of this size or larger is taken at once, mm.</summary>
    private const double GoodMm = 1.3;

    /// <summary>Below this, labels beside the cells are no use: they go onto the cells' lower edges, mm.</summary>
    private const double SmallestMm = 0.45;

    /// <summary>Distance of two baselines over the size of the type.</summary>
    public const double LineHeight = 1.16;

    private sealed record Form(string Key, Func<CellReading, ValueList<string>> Lines);

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
        (string found, Func<CellReading, string> finding) = Finding(reading);
        string settings = $"{SettingWords.Name(columns)}, {SettingWords.Name(rows)}";
        string units = $"{settings} ({SettingWords.Unit(rows)})".Replace(" ()", "", StringComparison.Ordinal);
        return
        [
            new($"{settings}; {found}", cell => [$"{With(cell, columns)}  {With(cell, rows)}", finding(cell)]),
            new($"{units}; {found}", cell => [$"{With(cell, columns)}  {Bare(cell, rows)}", finding(cell)]),
            new($"{units}; {found}", cell => [$"{With(cell, columns)}  {Bare(cell, rows)}  {Short(finding(cell))}"]),
        ];
    }

    /// <summary>What was found of a cell, and how the key explains it.</summary>
    private static (string Key, Func<CellReading, string> Of) Finding(Reading reading)
    {
        bool showsSides = reading.Cells.Any(cell => cell.Sides is not null || cell.Through is not null);
        return showsSides ? ("whether it is through", Opened)
            : reading.Plan.Kind == CardKind.FocusLadder ? ("line width of the wider direction", cell => LeftOut(cell) ?? (CellWords.LineWidthMm(cell) is double mm ? $"{Numbers.Fixed(mm, 2)} mm" : Numbers.NotMeasured))
            : ("D darkness", cell => LeftOut(cell) ?? (cell.Darkness is { } darkness ? $"D {Numbers.Value(darkness, 2)}" : Numbers.NotMeasured));
    }

    private static string Opened(CellReading cell) =>
        cell.Flags.Contains(CellFlag.DroppedOut) ? "fell out"
        : cell.Through is not null ? CellWords.Through(cell.Through)
        : LeftOut(cell) ?? Numbers.NotMeasured;

    private static string Short(string finding) => finding == CellWords.Through(Opening.Partial) ? "partly" : finding;

    private static string? LeftOut(CellReading cell) => cell.Flags.FirstOrDefault(CellFlag.IsDisqualifying) switch
    {
        null => null,
        CellFlag.Glare => "glare",
        CellFlag.Clipped => "too bright",
        _ => "out of frame",
    };

    private static string With(CellReading cell, Setting setting) =>
        SettingWords.Of(cell.Settings, setting) is double value ? SettingWords.WithUnit(setting, value) : "";

    private static string Bare(CellReading cell, Setting setting) =>
        SettingWords.Of(cell.Settings, setting) is double value ? Numbers.Chosen(value) : "";

    /// <summary>The cell's reading, or one without measurements where the reading does not hold it.</summary>
    private static CellReading ReadingOf(GridCells grid, Cell cell) =>
        grid.At(cell.Row, cell.Column)
        ?? new() { Row = cell.Row, Column = cell.Column, Settings = grid.Reading.Plan.SettingsOf(cell) };
}
