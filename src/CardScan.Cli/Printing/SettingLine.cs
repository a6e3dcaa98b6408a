using CardScan.Model;

namespace CardScan.Cli;

/// <summary>A recommended setting on one line: everything that must be entered to repeat it.</summary>
internal static class SettingLine
{
    /// <summary>Speed and power, then what else changes over the card or its company, and the card where it is an earlier one: "1500 mm/min at 80 %, 2 passes, on card 17".</summary>
    public static string Of(Recommendation recommendation, Reading reading)
    {
        string line = Of(recommendation.SpeedMmPerMin, recommendation.PowerPercent);
        return string.Join(", ", [line, .. Others(recommendation, reading), .. recommendation.Card is { } card ? new[] { $"on card {card}" } : []]);
    }

    /// <summary>Speed and power of a setting between burned cells; the rest is as beside it.</summary>
    public static string Of(UnburnedSetting unburned) => Of(unburned.SpeedMmPerMin, unburned.PowerPercent);

    private static string Of(double speedMmPerMin, double powerPercent) => $"{Figures.Plain(speedMmPerMin)} mm/min at {Figures.Plain(powerPercent)} %";

    /// <summary>Settings beside speed and power that are not the same wherever one looks: the recommendation holds them by its cell alone.</summary>
    private static IEnumerable<string> Others(Recommendation recommendation, Reading reading)
    {
        if (reading.CellOf(recommendation)?.Settings is not { } burned) yield break;
        if (IsOpen(Setting.Passes, burned.Passes, reading.Plan.Fixed.Passes ?? 1)) yield return burned.Passes == 1 ? "1 pass" : $"{burned.Passes} passes";
        if (reading.Plan.Process == Process.Engrave && burned.LineIntervalMm is { } interval && IsOpen(Setting.LineIntervalMm, interval, reading.Plan.Fixed.LineIntervalMm)) yield return $"line interval {Figures.Plain(interval)} mm";
        if (IsOpen(Setting.FocusOffsetMm, burned.FocusOffsetMm, reading.Plan.Fixed.FocusOffsetMm ?? 0)) yield return $"focus offset {Figures.Plain(burned.FocusOffsetMm)} mm";

        // An earlier card's setting may be another than the one that is fixed on this card.
        bool IsOpen(Setting setting, double value, double? usual) =>
            reading.Plan.Columns.Setting == setting || reading.Plan.Rows.Setting == setting || (recommendation.Card is not null && value != usual);
    }
}
