using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.Lines;

/// <summary>Plans of focus ladders.</summary>
internal static class LadderPlans
{
    /// <summary>
    /// The engraved test plan as a ladder: cells of 12 mm × 6 mm every 16 mm across and 17 mm down, three lines of 5.4
    /// mm each way, 1.5 mm apart.
    /// </summary>
    public static PlanFile Ladder()
    {
        PlanFile engraved = TestPlans.Engraved();
        return engraved with
        {
            Plan = engraved.Plan with
            {
                Kind = CardKind.FocusLadder,
                Columns = new() { Setting = Setting.FocusOffsetMm, Values = [-2, -1, 0, 1, 2] },
                Rows = new() { Setting = Setting.PowerPercent, Values = [30, 45, 65, 90] },
                Fixed = new() { SpeedMmPerMin = 2000 },
                Cells = engraved.Plan.Cells.Select(cell => WithLines(cell with
                {
                    XMm = cell.XMm - 2,
                    WidthMm = 12,
                    HeightMm = 6
                })).ToValueList(),
            },
        };
    }

    private static Cell WithLines(Cell cell)
    {
        double middle = cell.YMm + 3, right = cell.XMm + 9.3;
        double[] offsets = [-1.5, 0, 1.5];
        return cell with
        {
            Lines =
            [
                .. offsets.Select(offset => new BurnedLine
                {
                    FromXMm = cell.XMm,
                    FromYMm = middle + offset,
                    ToXMm = cell.XMm + 5.4,
                    ToYMm = middle + offset
                }),
                .. offsets.Select(offset => new BurnedLine
                {
                    FromXMm = right + offset,
                    FromYMm = middle - 2.7,
                    ToXMm = right + offset,
                    ToYMm = middle + 2.7
                }),
            ],
        };
    }
}
