using CardScan.Model;

namespace CardScan.Scoring.Tests.Cutting;

/// <summary>
/// Cut cards written as text: a row for each speed, four signs for each cell (left, right, top, bottom; o through, . held).
/// </summary>
internal static class CutPattern
{
    public static Reading Read(double[] powers, params (double Speed, string Cells)[] rows)
    {
        Plan plan = TestPlan.Of(Process.Cut, powers, [.. rows.Select(row => row.Speed)]);
        string[][] cells = [.. rows.Select(row => row.Cells.Split(' ', StringSplitOptions.RemoveEmptyEntries))];
        Assert.All(cells, row => Assert.Equal(powers.Length, row.Length));
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell => new CellReading
            {
                Row = cell.Row,
                Column = cell.Column,
                Settings = plan.SettingsOf(cell),
                Sides = SidesOf(cells[cell.Row][cell.Column]),
            }).ToValueList(),
        };
    }

    private static Sides SidesOf(string signs) => new(Side(signs[0]), Side(signs[1]), Side(signs[2]), Side(signs[3]));

    private static SideReading Side(char sign) => sign == 'o'
        ? new() { State = SideState.Open, OpenFraction = 1, SeenFraction = 1 }
        : HeldCells.Side;
}
