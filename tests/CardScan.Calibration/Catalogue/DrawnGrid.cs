using CardScan.Model;

namespace CardScan.Calibration;

/// <summary>Grids as makers plan them: whole percents and round speeds, over ranges that differ from card to card.</summary>
internal static class DrawnGrid
{
    public static Grid Of(Process process, GridSize size, Chance chance)
    {
        bool hasManyPowers = size.Few == size.Many || chance.Toss();
        (int powers, int speeds) = hasManyPowers ? (size.Many, size.Few) : (size.Few, size.Many);
        return process == Process.Engrave
            ? new(process, Powers(chance.Between(10, 30), chance.Between(75, 100), powers),
                Speeds(chance.ByRatio(600, 1100), chance.ByRatio(3.5, 8), speeds, 10))
            : new(process, Powers(chance.Between(20, 45), chance.Between(85, 100), powers),
                Speeds(chance.ByRatio(80, 160), chance.ByRatio(3, 5.5), speeds, 5));
    }

    private static double[] Powers(double from, double to, int count) =>
        [.. Enumerable.Range(0, count).Select(i => Math.Round(from + (to - from) * i / (count - 1)))];

    private static double[] Speeds(double from, double ratio, int count, double step) =>
        [.. Enumerable.Range(0, count).Select(i => step * Math.Round(from * Math.Pow(ratio, (double)i / (count - 1)) / step))];
}
