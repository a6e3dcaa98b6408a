using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Tones in words and greys.</summary>
internal static class ToneWords
{
    /// <summary>The value of the setting that makes the tones.</summary>
    public static double ValueOf(ToneScale tones, ToneStep step) => tones.Setting == Model.Setting.PowerPercent ? step.PowerPercent : step.SpeedMmPerMin;

    /// <summary>Speed and power: "2200 mm/min at 34.5 %".</summary>
    public static string Setting(ToneStep step) =>
        $"{SettingWords.WithUnit(Model.Setting.SpeedMmPerMin, step.SpeedMmPerMin)} at {SettingWords.WithUnit(Model.Setting.PowerPercent, step.PowerPercent)}";

    /// <summary>What the tones are evenly spaced in: L* ends at its white, the bare material, so that what is lighter has none.</summary>
    public static string Quantity(ToneScale tones) => tones.IsLighterThanBare ? "relative lightness" : "L*";

    /// <summary>The grey of a tone's L*, bare material as the screen's white; what is lighter than that is white too.</summary>
    public static Rgb Grey(ToneStep step)
    {
        double y = Math.Clamp(CieLightness.LuminanceAt(step.Lightness), 0, 1);
        // IEC 61966-2-1: the inverse of the screen's curve.
        double channel = y <= 0.0031308 ? 12.92 * y : 1.055 * Math.Pow(y, 1 / 2.4) - 0.055;
        byte grey = (byte)Math.Round(255 * channel);
        return new(grey, grey, grey);
    }
}
