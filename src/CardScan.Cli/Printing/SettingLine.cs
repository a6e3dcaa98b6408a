using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli;

/// <summary>A recommended setting on one line: everything that must be entered to repeat it.</summary>
internal static class SettingLine
{
    /// <summary>Speed and power, then what else changes over the card or its company, and the card where it is an earlier one.</summary>
    public static string Of(Recommendation recommendation, Reading reading)
    {
        SettingFigure setting = new(recommendation.SpeedMmPerMin, recommendation.PowerPercent);
        if (reading.CellOf(recommendation)?.Settings is { } tested) setting = WithOthers(setting, tested, recommendation, reading);
        return OnCard(setting, recommendation.Card);
    }

    /// <summary>Speed and power of a setting between tested cells, and the passes of the cell beside it; the rest is as there.</summary>
    public static string Of(UnburnedSetting unburned, Recommendation beside, Reading reading) => Voice.Tell(new SettingFigure(
        unburned.SpeedMmPerMin, unburned.PowerPercent, beside.Passes ?? reading.CellOf(beside)?.Settings.Passes ?? 1));

    /// <summary>A setting, and the card where it is an earlier one.</summary>
    public static string OnCard(SettingFigure setting, int? card) =>
        card is { } number ? Voice.Say("name.on-card", ("setting", setting), ("card", number)) : Voice.Tell(setting);

    /// <summary>
    /// Settings beside speed and power that are not the same wherever one looks: the recommendation holds them by its
    /// cell alone.
    /// </summary>
    private static SettingFigure WithOthers(SettingFigure setting, CellSettings tested, Recommendation recommendation, Reading reading)
    {
        Plan plan = reading.Plan;
        double? interval = plan.Process == Process.Engrave ? tested.LineIntervalMm : null;
        return setting with
        {
            Passes = tested.Passes,
            LineIntervalMm = interval is { } mm && IsOpen(Setting.LineIntervalMm, mm, plan.Fixed.LineIntervalMm) ? mm : null,
            FocusOffsetMm =
                IsOpen(Setting.FocusOffsetMm, tested.FocusOffsetMm, plan.Fixed.FocusOffsetMm ?? 0) ? tested.FocusOffsetMm : null,
        };

        // An earlier card's setting may be another than the one that is fixed on this card.
        bool IsOpen(Setting which, double value, double? usual) =>
            plan.Columns.Setting == which || plan.Rows.Setting == which || (recommendation.Card is not null && value != usual);
    }
}
