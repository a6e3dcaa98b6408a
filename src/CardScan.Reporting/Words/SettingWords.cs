using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Settings in words, with their units.</summary>
internal static class SettingWords
{
    private const char NoBreak = '\u00a0';

    /// <summary>The setting's name.</summary>
    public static string Name(Setting setting) => setting switch
    {
        Setting.PowerPercent => "power",
        Setting.SpeedMmPerMin => "speed",
        Setting.Passes => "passes",
        Setting.FocusOffsetMm => "focus offset",
        Setting.LineIntervalMm => "line interval",
        _ => throw new ArgumentOutOfRangeException(nameof(setting), setting, "An unknown setting."),
    };

    /// <summary>The setting's unit; empty for passes.</summary>
    public static string Unit(Setting setting) => setting switch
    {
        Setting.PowerPercent => "%",
        Setting.SpeedMmPerMin => "mm/min",
        Setting.FocusOffsetMm or Setting.LineIntervalMm => "mm",
        _ => "",
    };

    /// <summary>Name and unit as a heading: "Speed, mm/min".</summary>
    public static string Heading(Setting setting)
    {
        string name = Sentence.Capital(Name(setting));
        return Unit(setting).Length == 0 ? name : $"{name}, {Unit(setting)}";
    }

    /// <summary>A value with its unit: "1500 mm/min", "2 passes".</summary>
    public static string WithUnit(Setting setting, double value) => setting == Setting.Passes
        ? $"{Numbers.Chosen(value)}{NoBreak}{(value == 1 ? "pass" : "passes")}"
        : $"{Numbers.Chosen(value)}{NoBreak}{Unit(setting)}";

    /// <summary>What a cell was burned with, of one setting; null where it has none.</summary>
    public static double? Of(CellSettings settings, Setting setting) => setting switch
    {
        Setting.PowerPercent => settings.PowerPercent,
        Setting.SpeedMmPerMin => settings.SpeedMmPerMin,
        Setting.Passes => settings.Passes,
        Setting.FocusOffsetMm => settings.FocusOffsetMm,
        Setting.LineIntervalMm => settings.LineIntervalMm,
        _ => null,
    };

    /// <summary>The two settings that change over the card: "65 %, 2200 mm/min".</summary>
    public static string AxesOf(Plan plan, CellSettings settings) => string.Join(
        ", ",
        new[] { plan.Columns.Setting, plan.Rows.Setting }
            .Select(setting => Of(settings, setting) is double value ? WithUnit(setting, value) : $"{Name(setting)} unknown"));

    /// <summary>What goes with power and speed: "1 pass, line interval 0.1 mm, focus on the surface".</summary>
    public static string Others(Plan plan, CellSettings settings)
    {
        List<string> words = [WithUnit(Setting.Passes, settings.Passes)];
        if (plan.Process == Process.Engrave && settings.LineIntervalMm is double interval)
            words.Add($"line interval {WithUnit(Setting.LineIntervalMm, interval)}");
        words.Add(Focus(settings.FocusOffsetMm));
        return string.Join(", ", words);
    }

    private static string Focus(double offsetMm) => offsetMm switch
    {
        0 => "focus on the surface",
        < 0 => $"focus {WithUnit(Setting.FocusOffsetMm, -offsetMm)} below the surface",
        _ => $"focus {WithUnit(Setting.FocusOffsetMm, offsetMm)} above the surface",
    };
}
