namespace CardScan.Model;

/// <summary>What the parts of a plan must obey that say how it is burned and printed.</summary>
internal static class BurningRules
{
    /// <summary>Rounding to micrometres may put an end this far past an edge, mm.</summary>
    private const double TouchMm = 0.002;

    internal static IEnumerable<string> Faults(Plan plan) => [.. LineFaults(plan), .. TabFaults(plan), .. OrderFaults(plan), .. FrameFaults(plan)];

    private static IEnumerable<string> LineFaults(Plan plan)
    {
        bool isLadder = plan.Kind == CardKind.FocusLadder;
        if (isLadder && plan.Process != Process.Engrave) yield return "kind is focusLadder and process is cut: expected process engrave";
        if (isLadder && plan.Columns.Setting != Setting.FocusOffsetMm && plan.Rows.Setting != Setting.FocusOffsetMm)
            yield return "kind is focusLadder and no axis is focusOffsetMm: expected one that is";
        for (int i = 0; i < plan.Cells.Count; i++)
        {
            Cell cell = plan.Cells[i];
            if (isLadder != (cell.Lines is { Count: > 0 }))
                yield return $"cells[{i}].lines {(isLadder ? "is missing: expected the lines of a focus ladder" : "is given: expected none where kind is not focusLadder")}";
            for (int j = 0; j < (cell.Lines?.Count ?? 0); j++)
            {
                BurnedLine line = cell.Lines![j];
                if (!IsStraight(line) || !IsInside(cell, line.FromXMm, line.FromYMm) || !IsInside(cell, line.ToXMm, line.ToYMm))
                    yield return $"cells[{i}].lines[{j}] is not a line along x or y inside its cell: expected one";
            }
        }
    }

    private static bool IsStraight(BurnedLine line) => line.FromXMm == line.ToXMm != (line.FromYMm == line.ToYMm);

    private static bool IsInside(Cell cell, double x, double y) =>
        x >= cell.XMm - TouchMm && x <= cell.XMm + cell.WidthMm + TouchMm && y >= cell.YMm - TouchMm && y <= cell.YMm + cell.HeightMm + TouchMm;

    private static IEnumerable<string> TabFaults(Plan plan)
    {
        for (int i = 0; i < plan.Cells.Count; i++)
        {
            Cell cell = plan.Cells[i];
            if (cell.Tabs is { Count: > 0 } && plan.Process != Process.Cut) yield return $"cells[{i}].tabs is given: expected none where process is engrave";
            for (int j = 0; j < (cell.Tabs?.Count ?? 0); j++)
            {
                Tab tab = cell.Tabs![j];
                double length = tab.Side is CellSide.Top or CellSide.Bottom ? cell.WidthMm : cell.HeightMm;
                if (!(tab.LengthMm > 0 && tab.AtMm - tab.LengthMm / 2 > 0 && tab.AtMm + tab.LengthMm / 2 < length))
                    yield return $"cells[{i}].tabs[{j}] is {tab.LengthMm} mm at {tab.AtMm} mm: expected it inside its side of {length} mm";
            }
        }
    }

    private static IEnumerable<string> OrderFaults(Plan plan)
    {
        if (plan.Burning is not { } burning) yield break;
        if (burning.Order.Count != plan.Cells.Count || !burning.Order.Order().SequenceEqual(Enumerable.Range(0, plan.Cells.Count)))
            yield return $"burning.order does not hold each place from 0 to {plan.Cells.Count - 1} once: expected it to";
        if (burning.Marks.LineIntervalMm is null) yield return "burning.marks.lineIntervalMm is missing: expected a number";
        foreach (string fault in MaterialRules.MarkFaults(burning.Marks)) yield return $"burning.marks.{fault}";
    }

    private static IEnumerable<string> FrameFaults(Plan plan)
    {
        if (plan.Frame is not { } frame) yield break;
        if (plan.Process == Process.Cut || plan.Kind == CardKind.FocusLadder) yield return "frame is around a cut card or a focus ladder: expected it around filled cells only";
        if (!IsOnSheet(plan, frame.Window.XMm, frame.Window.YMm, frame.Window.WidthMm, frame.Window.HeightMm))
            yield return "frame.window reaches past the sheet's edge: expected it inside the card";
        if (plan.Cells.Any(cell => !IsIn(frame.Window, cell))) yield return "frame.window does not hold every cell: expected it to";
        if (!(frame.PaperXMm >= 0 && frame.PaperYMm >= 0
            && frame.PaperXMm + plan.Card.WidthMm <= frame.PaperWidthMm + TouchMm && frame.PaperYMm + plan.Card.HeightMm <= frame.PaperHeightMm + TouchMm))
            yield return "frame does not fit on its paper: expected the sheet inside it";
        for (int i = 0; i < frame.GreySteps.Count; i++)
        {
            GreyStep step = frame.GreySteps[i];
            if (!(step.Density >= 0 && step.Density <= 4)) yield return $"frame.greySteps[{i}].density is {step.Density}: expected 0 to 4";
            if (!IsOnSheet(plan, step.XMm, step.YMm, step.WidthMm, step.HeightMm)) yield return $"frame.greySteps[{i}] reaches past the sheet's edge: expected it inside the card";
        }

        for (int i = 0; i < frame.Rulers.Count; i++)
        {
            if (!(frame.Rulers[i].StepMm > 0)) yield return $"frame.rulers[{i}].stepMm is {frame.Rulers[i].StepMm}: expected more than 0 mm";
        }
    }

    private static bool IsOnSheet(Plan plan, double x, double y, double width, double height) =>
        x >= 0 && y >= 0 && width > 0 && height > 0 && x + width <= plan.Card.WidthMm + TouchMm && y + height <= plan.Card.HeightMm + TouchMm;

    private static bool IsIn(Window window, Cell cell) =>
        cell.XMm >= window.XMm && cell.YMm >= window.YMm
        && cell.XMm + cell.WidthMm <= window.XMm + window.WidthMm && cell.YMm + cell.HeightMm <= window.YMm + window.HeightMm;
}
