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
        string? fault = Faults(plan).FirstOrDefault();
        return fault is null ? null : Refusal.OfInput("plan-rule", $"{path}.{fault}", "correct the plan, or make it again with cardscan plan");
    }

    private static IEnumerable<string> Faults(Plan plan) =>
    [
        .. Numbers(plan),
        .. AxisFaults(plan.Columns, "columns"),
        .. AxisFaults(plan.Rows, "rows"),
        .. SettingFaults(plan),
        .. MarkerFaults(plan),
        .. CellFaults(plan),
        .. BurningRules.Faults(plan),
    ];

    private static IEnumerable<string> Numbers(Plan plan)
    {
        if (plan.Number is < 0 or > 249) yield return $"number is {plan.Number}: expected 0 to 249";
        foreach (string fault in MachineRules.Faults(plan.Machine)) yield return $"machine.{fault}";
        foreach (string fault in MaterialRules.Faults(plan.Material)) yield return $"material.{fault}";
        if (!(plan.Card.WidthMm > 0)) yield return $"card.widthMm is {plan.Card.WidthMm}: expected more than 0 mm";
        if (!(plan.Card.HeightMm > 0)) yield return $"card.heightMm is {plan.Card.HeightMm}: expected more than 0 mm";
    }

    private static IEnumerable<string> AxisFaults(Axis axis, string name)
    {
        if (axis.Values.Count == 0) yield return $"{name}.values is empty: expected at least one value";
        for (int i = 0; i < axis.Values.Count; i++)
        {
            if (RangeFault(axis.Setting, axis.Values[i]) is { } expected)
                yield return $"{name}.values[{i}] is {axis.Values[i]}: expected {expected}";
        }
    }

    private static IEnumerable<string> SettingFaults(Plan plan)
    {
        if (plan.Columns.Setting == plan.Rows.Setting)
            yield return $"rows.setting is {NameOf(plan.Rows.Setting)}, the same as columns.setting: expected two different settings";

        foreach (Setting setting in AllSettings)
        {
            bool isAxis = plan.Columns.Setting == setting || plan.Rows.Setting == setting;
            double? value = FixedValue(plan.Fixed, setting);
            bool isNeeded = setting is Setting.PowerPercent or Setting.SpeedMmPerMin
                || (setting == Setting.LineIntervalMm && plan.Process == Process.Engrave && plan.Kind != CardKind.FocusLadder);
            if (!isAxis && value is null && isNeeded)
                yield return $"fixed.{NameOf(setting)} is missing: expected a number, since no axis gives it";
            if (!isAxis && value is { } given && RangeFault(setting, given) is { } expected)
                yield return $"fixed.{NameOf(setting)} is {given}: expected {expected}";
        }
    }

    private static IEnumerable<string> MarkerFaults(Plan plan)
    {
        Fiducials fiducials = plan.Fiducials;
        if (fiducials.Dictionary != Fiducials.OnlyDictionary)
            yield return $"fiducials.dictionary is \"{fiducials.Dictionary}\": expected \"{Fiducials.OnlyDictionary}\"";
        if (!(fiducials.SideMm > 0)) yield return $"fiducials.sideMm is {fiducials.SideMm}: expected more than 0 mm";
        if (fiducials.Markers.Count != 4)
        {
            yield return $"fiducials.markers has {fiducials.Markers.Count} markers: expected 4";
            yield break;
        }

        for (int i = 0; i < 4; i++)
        {
            Marker marker = fiducials.Markers[i];
            if (marker.Id != 4 * plan.Number + i)
                yield return $"fiducials.markers[{i}].id is {marker.Id}: expected {4 * plan.Number + i} (4 × number + {i}: top left, top right, bottom right, bottom left)";
            if (!IsInside(plan.Card, marker.XMm, marker.YMm, fiducials.SideMm, fiducials.SideMm))
                yield return $"fiducials.markers[{i}] reaches past the card's edge: expected it inside {plan.Card.WidthMm} × {plan.Card.HeightMm} mm";
        }

        if (!AreCorners(fiducials))
            yield return "fiducials.markers are not at four corners: expected top left, top right, bottom right, bottom left, apart by more than a marker's side";
    }

    private static IEnumerable<string> CellFaults(Plan plan)
    {
        if (plan.Cells.Count == 0) yield return "cells is empty: expected at least one cell";
        if (plan.Cells.Count > MostCells)
        {
            yield return $"cells has {plan.Cells.Count} cells: expected at most {MostCells}";
            yield break;
        }

        for (int i = 0; i < plan.Cells.Count; i++)
        {
            Cell cell = plan.Cells[i];
            if (!(cell.WidthMm > 0)) yield return $"cells[{i}].widthMm is {cell.WidthMm}: expected more than 0 mm";
            if (!(cell.HeightMm > 0)) yield return $"cells[{i}].heightMm is {cell.HeightMm}: expected more than 0 mm";
            if (cell.Row < 0 || cell.Row >= plan.Rows.Values.Count) yield return $"cells[{i}].row is {cell.Row}: expected 0 to {plan.Rows.Values.Count - 1}";
            if (cell.Column < 0 || cell.Column >= plan.Columns.Values.Count) yield return $"cells[{i}].column is {cell.Column}: expected 0 to {plan.Columns.Values.Count - 1}";
            if (!IsInside(plan.Card, cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm))
                yield return $"cells[{i}] reaches past the card's edge: expected it inside {plan.Card.WidthMm} × {plan.Card.HeightMm} mm";

            if (plan.Fiducials.Markers.Any(marker => Overlap(cell, marker.XMm, marker.YMm, plan.Fiducials.SideMm, plan.Fiducials.SideMm)))
                yield return $"cells[{i}] lies over a marker: expected it clear of the markers";
            for (int j = 0; j < i; j++)
            {
                Cell other = plan.Cells[j];
                if (Overlap(cell, other.XMm, other.YMm, other.WidthMm, other.HeightMm))
                    yield return $"cells[{i}] overlaps cells[{j}]: expected cells apart from each other";
                if (cell.Row == other.Row && cell.Column == other.Column)
                    yield return $"cells[{i}] has the same row and column as cells[{j}]: expected one cell a place";
            }
        }
    }

    /// <summary>Whether a setting may have a value.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="value">Its value, in the setting's own unit; NaN is never accepted.</param>
    /// <returns>What was expected instead, or null where the value is fine.</returns>
    public static string? RangeFault(Setting setting, double value) => setting switch
    {
        Setting.PowerPercent when !(value > 0 && value <= 100) => "more than 0, at most 100 %",
        Setting.SpeedMmPerMin when !(value > 0 && value <= 1e6) => "more than 0 mm/min",
        Setting.Passes when !(value >= 1 && value <= 1000 && double.IsInteger(value)) => "a whole number from 1 on",
        Setting.FocusOffsetMm when !(Math.Abs(value) <= 1000) => "a number of mm",
        Setting.LineIntervalMm when !(value > 0 && value <= 100) => "more than 0 mm",
        _ => null,
    };

    private static double? FixedValue(FixedSettings settings, Setting setting) => setting switch
    {
        Setting.PowerPercent => settings.PowerPercent,
        Setting.SpeedMmPerMin => settings.SpeedMmPerMin,
        Setting.Passes => settings.Passes,
        Setting.FocusOffsetMm => settings.FocusOffsetMm,
        _ => settings.LineIntervalMm,
    };

    /// <summary>The setting's name as it stands in the files, e.g. <c>powerPercent</c>.</summary>
    public static string NameOf(Setting setting) => System.Text.Json.JsonNamingPolicy.CamelCase.ConvertName(setting.ToString());

    private static bool IsInside(CardSize card, double x, double y, double width, double height) =>
        x >= -TouchMm && y >= -TouchMm && x + width <= card.WidthMm + TouchMm && y + height <= card.HeightMm + TouchMm;

    private static bool Overlap(Cell cell, double x, double y, double width, double height) =>
        cell.XMm < x + width - TouchMm && x < cell.XMm + cell.WidthMm - TouchMm
        && cell.YMm < y + height - TouchMm && y < cell.YMm + cell.HeightMm - TouchMm;

    private static bool AreCorners(Fiducials fiducials)
    {
        (Marker tl, Marker tr, Marker br, Marker bl) = (fiducials.Markers[0], fiducials.Markers[1], fiducials.Markers[2], fiducials.Markers[3]);
        double side = fiducials.SideMm;
        return Math.Min(tr.XMm, br.XMm) >= Math.Max(tl.XMm, bl.XMm) + side
            && Math.Min(bl.YMm, br.YMm) >= Math.Max(tl.YMm, tr.YMm) + side;
    }
}
