using CardScan.Language;

namespace CardScan.Model;

/// <summary>What the parts of a plan must obey that say how it is burned and printed.</summary>
public static class BurningRules
{
    /// <summary>Rounding to micrometres may put an end this far past an edge, mm.</summary>
    private const double TouchMm = 0.002;

    /// <summary>The longest rest, s.</summary>
    public const double MostPauseS = 600;

    /// <summary>The largest step of the focus from pass to pass, mm.</summary>
    public const double MostFocusStepMm = 20;

    internal static IEnumerable<FieldFault> Faults(Plan plan) =>
        [.. PassFaults(plan.Fixed), .. LineFaults(plan), .. TabFaults(plan), .. OrderFaults(plan), .. FrameFaults(plan)];

    private static IEnumerable<FieldFault> PassFaults(FixedSettings given)
    {
        if (given.FocusStepMm is { } step && !(step is >= 0 and <= MostFocusStepMm))
            yield return FieldFault.Of("fixed.focusStepMm", step, Expected.Between(0, MostFocusStepMm, Unit.Mm));
        if (given.PassPauseS is { } pause && !(pause is >= 0 and <= MostPauseS))
            yield return FieldFault.Of("fixed.passPauseS", pause, Expected.Between(0, MostPauseS, Unit.Seconds));
    }

    private static IEnumerable<FieldFault> LineFaults(Plan plan)
    {
        bool isLadder = plan.Kind == CardKind.FocusLadder;
        if (isLadder && plan.Process != Process.Engrave) yield return new("kind", "rule.ladder-cut");
        if (isLadder && plan.Columns.Setting != Setting.FocusOffsetMm && plan.Rows.Setting != Setting.FocusOffsetMm)
            yield return new("kind", "rule.ladder-axis");
        for (int i = 0; i < plan.Cells.Count; i++)
        {
            Cell cell = plan.Cells[i];
            string lines = $"cells[{i}].lines";
            if (isLadder != (cell.Lines is { Count: > 0 }))
                yield return isLadder ? FieldFault.Missing(lines, Expected.Kind("lines")) : new(lines, "rule.unneeded", ("where", "grid"));
            for (int j = 0; j < (cell.Lines?.Count ?? 0); j++)
            {
                BurnedLine line = cell.Lines![j];
                if (!IsStraight(line) || !IsInside(cell, line.FromXMm, line.FromYMm) || !IsInside(cell, line.ToXMm, line.ToYMm))
                    yield return new($"{lines}[{j}]", "rule.line");
            }
        }
    }

    private static bool IsStraight(BurnedLine line) => line.FromXMm == line.ToXMm != (line.FromYMm == line.ToYMm);

    private static bool IsInside(Cell cell, double x, double y) =>
        x >= cell.XMm - TouchMm && x <= cell.XMm + cell.WidthMm + TouchMm
        && y >= cell.YMm - TouchMm && y <= cell.YMm + cell.HeightMm + TouchMm;

    private static IEnumerable<FieldFault> TabFaults(Plan plan)
    {
        for (int i = 0; i < plan.Cells.Count; i++)
        {
            Cell cell = plan.Cells[i];
            if (cell.Tabs is { Count: > 0 } && plan.Process != Process.Cut)
                yield return new($"cells[{i}].tabs", "rule.unneeded", ("where", "engraving"));
            for (int j = 0; j < (cell.Tabs?.Count ?? 0); j++)
            {
                Tab tab = cell.Tabs![j];
                double length = tab.Side is CellSide.Top or CellSide.Bottom ? cell.WidthMm : cell.HeightMm;
                if (!(tab.LengthMm > 0 && tab.AtMm - tab.LengthMm / 2 > 0 && tab.AtMm + tab.LengthMm / 2 < length))
                {
                    yield return new($"cells[{i}].tabs[{j}]", "rule.tab",
                        ("length", Figures.Mm(tab.LengthMm)), ("at", Figures.Mm(tab.AtMm)), ("side", Figures.Mm(length)));
                }
            }
        }
    }

    private static IEnumerable<FieldFault> OrderFaults(Plan plan)
    {
        if (plan.Burning is not { } burning) yield break;
        if (burning.CellPauseS is { } pause && !(pause is >= 0 and <= MostPauseS))
            yield return FieldFault.Of("burning.cellPauseS", pause, Expected.Between(0, MostPauseS, Unit.Seconds));
        if (burning.Order.Count != plan.Cells.Count || !burning.Order.Order().SequenceEqual(Enumerable.Range(0, plan.Cells.Count)))
            yield return new("burning.order", "rule.order", ("last", plan.Cells.Count - 1));
        if (burning.Marks.LineIntervalMm is null) yield return FieldFault.Missing("burning.marks.lineIntervalMm", Expected.Kind("number"));
        foreach (FieldFault fault in MaterialRules.MarkFaults(burning.Marks)) yield return fault.Under("burning.marks");
    }

    private static IEnumerable<FieldFault> FrameFaults(Plan plan)
    {
        if (plan.Frame is not { } frame) yield break;
        if (plan.Process == Process.Cut || plan.Kind == CardKind.FocusLadder) yield return new("frame", "rule.frame-around");
        if (!IsOnSheet(plan, frame.Window.XMm, frame.Window.YMm, frame.Window.WidthMm, frame.Window.HeightMm))
            yield return new("frame.window", "rule.past-sheet");
        if (plan.Cells.Any(cell => !IsIn(frame.Window, cell))) yield return new("frame.window", "rule.window");
        if (!(frame.PaperXMm >= 0 && frame.PaperYMm >= 0
            && frame.PaperXMm + plan.Card.WidthMm <= frame.PaperWidthMm + TouchMm
            && frame.PaperYMm + plan.Card.HeightMm <= frame.PaperHeightMm + TouchMm))
            yield return new("frame", "rule.paper");
        for (int i = 0; i < frame.GreySteps.Count; i++)
        {
            GreyStep step = frame.GreySteps[i];
            string path = $"frame.greySteps[{i}]";
            if (!(step.Density >= 0 && step.Density <= 4))
                yield return FieldFault.Of($"{path}.density", step.Density, Expected.Between(0, 4));
            if (!IsOnSheet(plan, step.XMm, step.YMm, step.WidthMm, step.HeightMm)) yield return new(path, "rule.past-sheet");
        }

        for (int i = 0; i < frame.Rulers.Count; i++)
        {
            if (!(frame.Rulers[i].StepMm > 0))
                yield return FieldFault.Of($"frame.rulers[{i}].stepMm", frame.Rulers[i].StepMm, Expected.Positive(Unit.Mm));
        }
    }

    private static bool IsOnSheet(Plan plan, double x, double y, double width, double height) =>
        x >= 0 && y >= 0 && width > 0 && height > 0
        && x + width <= plan.Card.WidthMm + TouchMm && y + height <= plan.Card.HeightMm + TouchMm;

    private static bool IsIn(Window window, Cell cell) =>
        cell.XMm >= window.XMm && cell.YMm >= window.YMm
        && cell.XMm + cell.WidthMm <= window.XMm + window.WidthMm && cell.YMm + cell.HeightMm <= window.YMm + window.HeightMm;
}
