using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Tones as settings and greys.</summary>
internal static class ShownTone
{
    /// <summary>The value of the setting that makes the tones.</summary>
    public static double ValueOf(ToneScale tones, ToneStep step) =>
        tones.Setting == Setting.PowerPercent ? step.PowerPercent : step.SpeedMmPerMin;

    /// <summary>Speed, power and the card's passes.</summary>
    public static SettingFigure SettingOf(Plan plan, ToneStep step) => new(step.SpeedMmPerMin, step.PowerPercent, plan.Fixed.Passes ?? 1);

    /// <summary>How light it is.</summary>
    public static Number Lightness(ToneStep step) => In(Unit.Lightness, step.Lightness);

    /// <summary>What the tones are evenly spaced in: L* ends at its white, the bare material, so that what is lighter has none.</summary>
    public static Phrase Quantity(ToneScale tones) => new("page.tones.quantity", ("lighter", Is(tones.IsLighterThanBare)));

    /// <summary>The grey of a tone's L*, bare material as the screen's white; what is lighter than that is white too.</summary>
    public static Rgb Grey(ToneStep step)
    {
        byte grey = SrgbCurve.Byte(Math.Clamp(CieLightness.LuminanceAt(step.Lightness), 0, 1));
        return new(grey, grey, grey);
    }
}
