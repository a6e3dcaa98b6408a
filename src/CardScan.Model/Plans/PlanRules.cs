using CardScan.Language;

namespace CardScan.Model;

/// <summary>What a plan must obey beyond the kinds of its fields.</summary>
public static class PlanRules
{
    /// <summary>Most cells of a plan that is read or made.</summary>
    public const int MostCells = 1000;

    /// <summary>Two touching rectangles may overlap by rounding; more is a fault, mm.</summary>
    private const double TouchMm = 1e-6;

    private static readonly Setting[] AllSettings = Enum.GetValues<Setting>();

    /// <summary>Checks a plan.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="path">Where the plan stands in its file, for the message.</param>
    /// <returns>The first fault, or null.</returns>
    public static Refusal? Check(Plan plan, string path = "$")
    {
        ArgumentNullException.ThrowIfNull(plan);
        return Faults(plan).FirstOrDefault() is { } fault ? Refusal.OfInput(Codes.PlanRule, ("fault", fault.Under(path).ToFigure())) : null;
    }

    private static IEnumerable<FieldFault> Faults(Plan plan) =>
    [
        .. Numbers(plan),
        .. AxisFaults(plan.Columns, "columns"),
        .. AxisFaults(plan.Rows, "rows"),
        .. SettingFaults(plan),
        .. MarkerFaults(plan),
        .. CellFaults(plan),
        .. BurningRules.Faults(plan),
    ];

    private static IEnumerable<FieldFault> Numbers(Plan plan)
    {
        if (plan.Number is < 0 or > 249) yield return FieldFault.Of("number", plan.Number, Expected.Between(0, Plan.Numbers - 1));
        if (!plan.IsPrinted)
        {
            foreach (FieldFault fault in MachineRules.Check(plan.Machine)) yield return fault.Under("machine");
        }

        foreach (FieldFault fault in MaterialRules.Check(plan.Material)) yield return fault.Under("material");
        if (plan.Start is { } start)
        {
            if (!(start.Energy > 0)) yield return FieldFault.Of("start.energy", start.Energy, Expected.Positive(Unit.None));
            if (!(start.Factor > 1)) yield return FieldFault.Of("start.factor", start.Factor, new("rule.over", ("least", 1)));
        }

        if (!(plan.Card.WidthMm > 0)) yield return FieldFault.Of("card.widthMm", plan.Card.WidthMm, Expected.Positive(Unit.Mm));
        if (!(plan.Card.HeightMm > 0)) yield return FieldFault.Of("card.heightMm", plan.Card.HeightMm, Expected.Positive(Unit.Mm));
    }

    private static IEnumerable<FieldFault> AxisFaults(Axis axis, string name)
    {
        if (axis.Values.Count == 0) yield return FieldFault.Empty($"{name}.values", Expected.Kind("value"));
        for (int i = 0; i < axis.Values.Count; i++)
        {
            if (ExpectedOf(axis.Setting, axis.Values[i]) is { } expected)
                yield return FieldFault.Of($"{name}.values[{i}]", axis.Values[i], expected);
        }
    }

    private static IEnumerable<FieldFault> SettingFaults(Plan plan)
    {
        if (plan is { IsPrinted: true, Process: not Process.Engrave }) yield return new("kind", "rule.strip-cut");
        if (plan.IsPrinted != (plan.Columns.Setting == Setting.PrintedDensity)) yield return new("columns.setting", "rule.strip-axis");
        if (plan.Rows.Setting == Setting.PrintedDensity) yield return new("rows.setting", "rule.strip-axis");
        if (plan.Columns.Setting == plan.Rows.Setting)
            yield return new("rows.setting", "rule.settings-alike", ("found", NameOf(plan.Rows.Setting)));

        foreach (Setting setting in AllSettings)
        {
            bool isAxis = plan.Columns.Setting == setting || plan.Rows.Setting == setting;
            double? value = FixedValue(plan.Fixed, setting);
            bool isNeeded = !plan.IsPrinted && (setting is Setting.PowerPercent or Setting.SpeedMmPerMin
                || (setting == Setting.LineIntervalMm && plan.Process == Process.Engrave && plan.Kind != CardKind.FocusLadder));
            if (!isAxis && value is null && isNeeded)
                yield return FieldFault.Missing($"fixed.{NameOf(setting)}", Expected.Kind("unaxed"));
            if (!isAxis && value is { } given && ExpectedOf(setting, given) is { } expected)
                yield return FieldFault.Of($"fixed.{NameOf(setting)}", given, expected);
        }
    }

    private static IEnumerable<FieldFault> MarkerFaults(Plan plan)
    {
        Fiducials fiducials = plan.Fiducials;
        if (fiducials.Dictionary != Fiducials.OnlyDictionary)
            yield return FieldFault.Of("fiducials.dictionary", $"\"{fiducials.Dictionary}\"", $"\"{Fiducials.OnlyDictionary}\"");
        if (!(fiducials.SideMm > 0)) yield return FieldFault.Of("fiducials.sideMm", fiducials.SideMm, Expected.Positive(Unit.Mm));
        if (fiducials.Markers.Count != 4)
        {
            yield return FieldFault.Count("fiducials.markers", fiducials.Markers.Count, 4);
            yield break;
        }

        for (int i = 0; i < 4; i++)
        {
            Marker marker = fiducials.Markers[i];
            string path = $"fiducials.markers[{i}]";
            if (marker.Id != 4 * plan.Number + i)
                yield return new($"{path}.id", "rule.marker-number", ("found", marker.Id), ("expected", 4 * plan.Number + i), ("place", i));
            if (!IsInside(plan.Card, marker.XMm, marker.YMm, fiducials.SideMm, fiducials.SideMm)) yield return PastCard(path, plan.Card);
        }

        if (!AreCorners(fiducials))
            yield return new("fiducials.markers", "rule.not-corners");
    }

    private static IEnumerable<FieldFault> CellFaults(Plan plan)
    {
        if (plan.Cells.Count == 0) yield return FieldFault.Empty("cells", Expected.Kind("cell"));
        if (plan.Cells.Count > MostCells)
        {
            yield return FieldFault.Count("cells", plan.Cells.Count, Expected.AtMost(MostCells));
            yield break;
        }

        for (int i = 0; i < plan.Cells.Count; i++)
        {
            Cell cell = plan.Cells[i];
            string path = $"cells[{i}]";
            if (!(cell.WidthMm > 0)) yield return FieldFault.Of($"{path}.widthMm", cell.WidthMm, Expected.Positive(Unit.Mm));
            if (!(cell.HeightMm > 0)) yield return FieldFault.Of($"{path}.heightMm", cell.HeightMm, Expected.Positive(Unit.Mm));
            foreach (FieldFault fault in AddressFaults(cell.Row, cell.Column, path, plan)) yield return fault;
            if (!IsInside(plan.Card, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm)) yield return PastCard(path, plan.Card);

            if (plan.Fiducials.Markers.Any(marker => Overlap(cell, marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm)))
                yield return new(path, "rule.over-marker");
            for (int j = 0; j < i; j++)
            {
                Cell other = plan.Cells[j];
                if (Overlap(cell, other.XMm, other.YMm, other.WidthMm, other.HeightMm))
                    yield return new(path, "rule.overlap", ("other", $"cells[{j}]"));
                if (cell.Row == other.Row && cell.Column == other.Column)
                    yield return SamePlace(path, j);
            }
        }
    }

    /// <summary>Faults of a cell's place: the grid has no such row or column.</summary>
    internal static IEnumerable<FieldFault> AddressFaults(int row, int column, string path, Plan plan)
    {
        int rows = plan.Rows.Values.Count, columns = plan.Columns.Values.Count;
        if (row < 0 || row >= rows) yield return FieldFault.Of($"{path}.row", row, Expected.Between(0, rows - 1));
        if (column < 0 || column >= columns) yield return FieldFault.Of($"{path}.column", column, Expected.Between(0, columns - 1));
    }

    /// <summary>The fault of a second cell at a place.</summary>
    internal static FieldFault SamePlace(string path, int other) => new(path, "rule.same-place", ("other", $"cells[{other}]"));

    private static FieldFault PastCard(string path, CardSize card) =>
        new(path, "rule.past-card", ("width", Figures.Mm(card.WidthMm)), ("height", Figures.Mm(card.HeightMm)));

    /// <summary>Whether a setting may have a value.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="value">Its value, in the setting's own unit; NaN is never accepted.</param>
    /// <returns>What was expected instead, for a message; or null where the value is fine.</returns>
    public static Phrase? ExpectedOf(Setting setting, double value) => setting switch
    {
        Setting.PowerPercent when !(value > 0 && value <= 100) => Expected.PositiveTo(100, Unit.Percent),
        Setting.SpeedMmPerMin when !(value > 0 && value <= 1e6) => Expected.PositiveTo(1e6, Unit.MmPerMin),
        Setting.Passes when !(value >= 1 && value <= 1000 && double.IsInteger(value)) =>
            new("rule.whole-between", ("least", 1), ("most", 1000)),
        Setting.FocusOffsetMm when !(Math.Abs(value) <= 1000) => Expected.Between(-1000, 1000, Unit.Mm),
        Setting.LineIntervalMm when !(value > 0 && value <= 100) => Expected.PositiveTo(100, Unit.Mm),
        Setting.PrintedDensity when !(value > 0 && value <= 4) => Expected.PositiveTo(4, Unit.None),
        _ => null,
    };

    private static double? FixedValue(FixedSettings settings, Setting setting) => setting switch
    {
        Setting.PowerPercent => settings.PowerPercent,
        Setting.SpeedMmPerMin => settings.SpeedMmPerMin,
        Setting.Passes => settings.Passes,
        Setting.FocusOffsetMm => settings.FocusOffsetMm,
        Setting.LineIntervalMm => settings.LineIntervalMm,
        _ => null,
    };

    /// <summary>The setting's name as it stands in the files, e.g. <c>powerPercent</c>.</summary>
    public static string NameOf(Setting setting) => EnumName.Of(setting);

    private static bool IsInside(CardSize card, double x, double y, double width, double height) =>
        x >= -TouchMm && y >= -TouchMm && x + width <= card.WidthMm + TouchMm && y + height <= card.HeightMm + TouchMm;

    private static bool Overlap(Cell cell, double x, double y, double width, double height) =>
        cell.XMm < x + width - TouchMm && x < cell.XMm + cell.WidthMm - TouchMm
        && cell.YMm < y + height - TouchMm && y < cell.YMm + cell.HeightMm - TouchMm;

    private static bool AreCorners(Fiducials fiducials)
    {
        (Marker tl, Marker tr, Marker br, Marker bl) =
            (fiducials.Markers[0], fiducials.Markers[1], fiducials.Markers[2], fiducials.Markers[3]);
        double side = fiducials.SideMm;
        return Math.Min(tr.XMm, br.XMm) >= Math.Max(tl.XMm, bl.XMm) + side
            && Math.Min(bl.YMm, br.YMm) >= Math.Max(tl.YMm, tr.YMm) + side;
    }
}
