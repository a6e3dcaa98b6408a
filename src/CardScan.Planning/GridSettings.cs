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
        if (request.Process == Process.Engrave) given.TryAdd(Setting.LineIntervalMm, [CardPlanner.UsualLineIntervalMm]);

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

    private static Refusal? Fault(PlanRequest request)
    {
        IGrouping<Setting, SettingRange>? twice = request.Settings.GroupBy(range => range.Setting).FirstOrDefault(group => group.Count() > 1);
        if (twice is not null) return Refusal.OfInput("plan-axes", $"{SettingRange.OptionOf(twice.Key)} is given twice", "give it once");
        foreach (Setting needed in (Setting[])[Setting.PowerPercent, Setting.SpeedMmPerMin])
        {
            if (request.Settings.All(range => range.Setting != needed))
                return Refusal.OfInput("plan-axes", $"{SettingRange.OptionOf(needed)} is missing", "give it one value or several");
        }

        return request.Process == Process.Cut && request.Settings.Any(range => range.Setting == Setting.LineIntervalMm)
            ? Refusal.OfInput("plan-axes", "--line-interval is given for a cut card, whose cells are outlined and not filled", "leave it out")
            : null;
    }
}
