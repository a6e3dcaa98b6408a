using CardScan.Model;

namespace CardScan.Scoring;

/// <summary>Settings and probabilities in the sentences of both processes.</summary>
internal static class SettingWords
{
    /// <summary>"1500 mm/min at 80 % in 2 passes".</summary>
    public static string Setting(CellSettings settings)
    {
        string passes = settings.Passes > 1 ? $" in {settings.Passes} passes" : "";
        return $"{settings.SpeedMmPerMin:0.#} mm/min at {settings.PowerPercent:0.#} %{passes}";
    }

    /// <summary>The same with line interval and focus offset, where they change over the card: "…, line interval 0.08 mm".</summary>
    public static string Setting(CellSettings settings, Plan plan) => settings.InWords(plan);

    /// <summary>A speed that somebody would dial: two digits.</summary>
    public static double RoundSpeed(double mmPerMin)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(mmPerMin)) - 1);
        return Math.Round(mmPerMin / unit) * unit;
    }

    /// <summary>A share or probability in whole percent, finer near both ends where it matters.</summary>
    public static string Percent(double share01) => share01 switch
    {
        > 0.9995 and < 1 => "over 99.9 %",
        > 0 and < 0.0005 => "under 0.1 %",
        (> 0.985 and < 1) or (> 0 and < 0.015) => $"{100 * share01:0.0} %",
        _ => $"{100 * share01:0} %",
    };

    /// <summary>A share in whole percent with its interval: "97 % [94, 99]".</summary>
    public static string Percent(double share01, double low, double high) =>
        $"{100 * share01:0} % [{100 * low:0}, {100 * high:0}]";
}
