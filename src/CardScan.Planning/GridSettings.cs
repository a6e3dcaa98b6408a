using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Which settings change along the grid, and which stay.</summary>
internal sealed record GridSettings(Axis Columns, Axis Rows, FixedSettings Fixed)
{
    /// <summary>The first setting with several values runs from column to column, the second from row to row.</summary>
    internal static Outcome<GridSettings> From(PlanRequest request)
    {
        if (Fault(request) is { } fault) return fault;
        Dictionary<Setting, ValueList<double>> given = request.Settings.ToDictionary(range => range.Setting, range => range.Values);
        if (request.Process == Process.Engrave && request.Kind == CardKind.Grid) given.TryAdd(Setting.LineIntervalMm, [CardPlanner.UsualLineIntervalMm]);

        Setting[] varied = [.. given.Keys.Where(setting => given[setting].Count > 1).Order()];
        if (varied.Length == 0) return Refusal.OfInput("plan-axes", "every setting has one value", "give one or two settings several values, for instance --power 20:80:7 --speed 600:3000:5");
        if (varied.Length > 2)
            return Refusal.OfInput("plan-axes", $"{string.Join(", ", varied.Select(SettingRange.OptionOf))} all have several values", "give at most two settings several values, and the others one");

        Setting columns = varied[0];
        // A single row still is an axis of the plan: power or speed, whichever is not the columns'.
        Setting rows = varied.Length == 2 ? varied[1] : columns == Setting.SpeedMmPerMin ? Setting.PowerPercent : Setting.SpeedMmPerMin;
        int cells = given[columns].Count * given[rows].Count;
        if (cells > PlanRules.MostCells)
            return Refusal.OfInput("plan-cells", $"the grid has {given[columns].Count} × {given[rows].Count} = {cells} cells", $"give fewer values, at most {PlanRules.MostCells} cells");

        return new GridSettings(AxisOf(columns), AxisOf(rows), new FixedSettings
        {
            PowerPercent = Fixed(Setting.PowerPercent),
            SpeedMmPerMin = Fixed(Setting.SpeedMmPerMin),
            Passes = (int?)Fixed(Setting.Passes),
            FocusOffsetMm = Fixed(Setting.FocusOffsetMm),
            LineIntervalMm = Fixed(Setting.LineIntervalMm),
        });

        Axis AxisOf(Setting setting) => new() { Setting = setting, Values = given[setting] };
        double? Fixed(Setting setting) =>
            setting == columns || setting == rows || !given.TryGetValue(setting, out ValueList<double>? values) ? null : values[0];
    }

    /// <summary>Line interval of a cell of a grid that is filled.</summary>
    internal double LineIntervalMm(int row, int column) =>
        Columns.Setting == Setting.LineIntervalMm ? Columns.Values[column]
        : Rows.Setting == Setting.LineIntervalMm ? Rows.Values[row]
        : Fixed.LineIntervalMm!.Value;

    private static Refusal? Fault(PlanRequest request)
    {
        IGrouping<Setting, SettingRange>? twice = request.Settings.GroupBy(range => range.Setting).FirstOrDefault(group => group.Count() > 1);
        if (twice is not null) return Refusal.OfInput("plan-axes", $"{SettingRange.OptionOf(twice.Key)} is given twice", "give it once");
        foreach (Setting needed in (Setting[])[Setting.PowerPercent, Setting.SpeedMmPerMin])
        {
            if (request.Settings.All(range => range.Setting != needed))
                return Refusal.OfInput("plan-axes", $"{SettingRange.OptionOf(needed)} is missing", "give it one value or several");
        }

        SettingRange? intervals = request.Settings.FirstOrDefault(range => range.Setting == Setting.LineIntervalMm);
        if (request.Kind == CardKind.FocusLadder) return LadderFault(request, intervals);
        if (request.Process == Process.Cut)
            return intervals is null ? null : Refusal.OfInput("plan-axes", "--line-interval is given for a cut card, whose cells are outlined and not filled", "leave it out");
        double most = request.CellSideMm / FewestLines;
        return intervals is null || intervals.Values[^1] <= most
            ? null
            : Refusal.OfInput("plan-value", $"--line-interval has {intervals.Values[^1]}, and cells are {request.CellSideMm} mm high", $"give at most {most:0.###} mm, or a larger --cell");
    }

    private static Refusal? LadderFault(PlanRequest request, SettingRange? intervals)
    {
        if (request.Process == Process.Cut) return Refusal.OfInput("plan-axes", "a focus ladder is asked for with --process cut", "leave --process out: a ladder is engraved");
        if (intervals is not null) return Refusal.OfInput("plan-axes", "--line-interval is given for a focus ladder, which has single lines and no fills", "leave it out");
        return request.Settings.Any(range => range.Setting == Setting.FocusOffsetMm && range.Values.Count >= FewestRungs)
            ? null
            : Refusal.OfInput("plan-axes", $"a focus ladder needs --focus-offset with at least {FewestRungs} values", "give for instance --focus-offset=-2:2:9");
    }

    /// <summary>Fewer lines do not make an even fill.</summary>
    private const int FewestLines = 4;

    /// <summary>A curve through the best focus needs a point on either side of it and one more.</summary>
    private const int FewestRungs = 4;
}
