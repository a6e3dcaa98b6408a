using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>Settings with their names and units.</summary>
internal static class ShownSetting
{
    /// <summary>The setting's name.</summary>
    public static string Name(Setting setting) => Voice.Say("page.setting.name", ("setting", $"{setting}"));

    /// <summary>Name and unit as a heading: "Speed, mm/min".</summary>
    public static string Heading(Setting setting) => Voice.Say("page.setting.head", ("setting", $"{setting}"));

    /// <summary>A value without its unit.</summary>
    public static string Bare(Setting setting, double value) => Voice.TellBare(SettingNumber.Of(setting, value));

    /// <summary>A value that stands alone: "1500 mm/min", "2 passes".</summary>
    public static string Alone(Setting setting, double value) => setting == Setting.Passes
        ? Voice.Say("page.setting.passes", ("passes", (int)value))
        : Voice.Tell(SettingNumber.Of(setting, value));

    /// <summary>What a cell was burned with; of a printed grey the density that was asked for.</summary>
    public static Figure Of(Plan plan, Cell cell, CellSettings settings) => plan.IsPrinted
        ? SettingNumber.Of(Setting.PrintedDensity, plan.Columns.Values[cell.Column])
        : settings.ToFigure(plan);

    /// <summary>A recommended setting, with the passes of its cell and what else changes over the card.</summary>
    public static SettingFigure Of(Reading reading, Recommendation recommendation) =>
        BurnedWith(reading, recommendation) is { } settings
            ? settings.ToFigure(reading.Plan) with
            {
                SpeedMmPerMin = recommendation.SpeedMmPerMin, PowerPercent = recommendation.PowerPercent,
            }
            : new(recommendation.SpeedMmPerMin, recommendation.PowerPercent);

    /// <summary>How often a recommended setting's path is run.</summary>
    public static int PassesOf(Reading reading, Recommendation recommendation) =>
        recommendation.Passes ?? BurnedWith(reading, recommendation)?.Passes ?? 1;

    /// <summary>What goes with power and speed: "With 1 pass, focus on the surface."; empty where the plan has no cell.</summary>
    public static string Others(Reading reading, Recommendation recommendation)
    {
        if (BurnedWith(reading, recommendation) is not { } settings) return "";
        double offset = settings.FocusOffsetMm;
        List<(string, Figure)> values =
        [
            ("passes", Alone(Setting.Passes, settings.Passes)),
            ("side", offset switch { 0 => "on", < 0 => "below", _ => "above" }), ("offset", Mm(Math.Abs(offset))),
        ];
        if (reading.Plan.Process == Process.Engrave && settings.LineIntervalMm is double interval) values.Add(("interval", Mm(interval)));
        if (reading.Plan.Fixed.AirAssist is { } air) values.Add(("air", air.ToFigure()));
        if (recommendation.Card is { } card) values.Add(("card", card));
        return Voice.Say("page.recommendation.others", values);
    }

    private static CellSettings? BurnedWith(Reading reading, Recommendation recommendation) =>
        reading.CellOf(recommendation)?.Settings ?? (reading.Plan.Cells.Count > 0 ? reading.Plan.SettingsOf(reading.Plan.Cells[0]) : null);
}
