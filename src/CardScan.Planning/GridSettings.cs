using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>Which settings change along the grid, and which stay.</summary>
internal sealed record GridSettings(Axis Columns, Axis Rows, FixedSettings Fixed)
{
    /// <summary>The first setting with several values runs from column to column, the second from row to row.</summary>
    internal static Outcome<GridSettings> From(PlanRequest request)
    {
        if (Fault(request) is { } fault) return fault;
        Dictionary<Setting, ValueList<double>> given = request.Settings.ToDictionary(range => range.Setting, range => range.Values);
        if (request is { Process: Process.Engrave, Kind: CardKind.Grid })
            given.TryAdd(Setting.LineIntervalMm, [CardPlanner.UsualLineIntervalMm]);

        Setting[] varied = [.. given.Keys.Where(setting => given[setting].Count > 1).Order()];
        if (varied.Length == 0) return AxesFault("none-varies");
        if (varied.Length > 2) return AxesFault("many", ("options", List(varied.Select(OptionOf))));

        Setting columns = varied[0];
        // A single row still is an axis of the plan: power or speed, whichever is not the columns'.
        Setting rows = varied.Length == 2 ? varied[1] : columns == Setting.SpeedMmPerMin ? Setting.PowerPercent : Setting.SpeedMmPerMin;
        int cells = given[columns].Count * given[rows].Count;
        if (cells > PlanRules.MostCells)
        {
            return Refusal.OfInput(Codes.PlanCells,
                ("columns", given[columns].Count), ("rows", given[rows].Count), ("cells", cells), ("most", PlanRules.MostCells));
        }

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
        IGrouping<Setting, SettingRange>? twice =
            request.Settings.GroupBy(range => range.Setting).FirstOrDefault(group => group.Count() > 1);
        if (twice is not null) return AxesFault("twice", ("option", OptionOf(twice.Key)));
        foreach (Setting needed in (Setting[])[Setting.PowerPercent, Setting.SpeedMmPerMin])
        {
            if (request.Settings.All(range => range.Setting != needed))
                return AxesFault("missing", ("option", OptionOf(needed)));
        }

        SettingRange? intervals = request.Settings.FirstOrDefault(range => range.Setting == Setting.LineIntervalMm);
        if (request.Kind == CardKind.FocusLadder) return LadderFault(request, intervals);
        if (request.Process == Process.Cut) return intervals is null ? null : AxesFault("cut-interval");
        double most = request.CellSideMm / FewestLines;
        return intervals is null || intervals.Values[^1] <= most
            ? null
            : RequestCheck.Fault("interval", ("value", Given(intervals.Values[^1])), ("cell", Mm(request.CellSideMm)), ("most", Mm(most)));
    }

    private static Refusal? LadderFault(PlanRequest request, SettingRange? intervals)
    {
        if (request.Process == Process.Cut) return AxesFault("ladder-cut");
        if (intervals is not null) return AxesFault("ladder-interval");
        return request.Settings.Any(range => range.Setting == Setting.FocusOffsetMm && range.Values.Count >= FewestRungs)
            ? null
            : AxesFault("ladder-focus", ("least", FewestRungs));
    }

    private static Figure OptionOf(Setting setting) => new OptionName(SettingRange.OptionOf(setting));

    private static Refusal AxesFault(string fault, params IEnumerable<(string Name, Figure Value)> values) =>
        Refusal.OfInput(Codes.PlanAxes, [("fault", fault), .. values]);

    /// <summary>Fewer lines do not make an even fill.</summary>
    private const int FewestLines = 4;

    /// <summary>A curve through the best focus needs a point on either side of it and one more.</summary>
    private const int FewestRungs = 4;
}
