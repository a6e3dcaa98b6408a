using CardScan.Model;

namespace CardScan.Cli;

/// <summary>A recommended setting on one line: everything that must be entered to repeat it.</summary>
internal static class SettingLine
{
    /// <summary>Speed and power, then what else changes over the card: "1500 mm/min at 80 %, 2 passes".</summary>
    public static string Of(Recommendation recommendation, Reading reading)
    {
        string line = Of(recommendation.SpeedMmPerMin, recommendation.PowerPercent);
        return string.Join(", ", [line, .. Others(recommendation, reading)]);
    }

    /// <summary>Speed and power of a setting between burned cells; the rest is as beside it.</summary>
    public static string Of(UnburnedSetting unburned) => Of(unburned.SpeedMmPerMin, unburned.PowerPercent);

    private static string Of(double speedMmPerMin, double powerPercent) => $"{Figures.Plain(speedMmPerMin)} mm/min at {Figures.Plain(powerPercent)} %";

    /// <summary>Settings of the card's axes beside speed and power: the recommendation holds them by its cell alone.</summary>
    private static IEnumerable<string> Others(Recommendation recommendation, Reading reading)
    {
        if (recommendation.Cell is not { } at || reading.Cells.FirstOrDefault(cell => cell.Row == at.Row && cell.Column == at.Column) is not { } cell) yield break;
        CellSettings burned = cell.Settings;
        foreach (Setting setting in new[] { Setting.Passes, Setting.LineIntervalMm, Setting.FocusOffsetMm })
        {
            if (reading.Plan.Columns.Setting != setting && reading.Plan.Rows.Setting != setting) continue;
            if (setting == Setting.Passes) yield return burned.Passes == 1 ? "1 pass" : $"{burned.Passes} passes";
            else if (setting == Setting.FocusOffsetMm) yield return $"focus offset {Figures.Plain(burned.FocusOffsetMm)} mm";
            else if (burned.LineIntervalMm is { } interval) yield return $"line interval {Figures.Plain(interval)} mm";
        }
    }
}
