using CardScan.Language;

namespace CardScan.Model;

/// <summary>A value of a setting, for a message.</summary>
public static class SettingNumber
{
    /// <summary>The value with the unit that its setting has.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="value">Its value, in the setting's own unit.</param>
    public static Number Of(Setting setting, double value) => setting switch
    {
        Setting.PowerPercent => Figures.Power(value),
        Setting.SpeedMmPerMin => Figures.Speed(value),
        Setting.FocusOffsetMm => Figures.In(Unit.OffsetMm, value),
        Setting.LineIntervalMm => Figures.Mm(value),
        Setting.PrintedDensity => Figures.In(Unit.Density, value),
        _ => Figures.In(Unit.None, value),
    };
}
