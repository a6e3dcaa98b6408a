using CardScan.Model;

namespace CardScan.Scoring;

/// <summary>Settings in the sentences of both processes.</summary>
internal static class SettingWords
{
    /// <summary>"1500 mm/min at 80 % in 2 passes".</summary>
    public static string Setting(CellSettings settings)
    {
        string passes = settings.Passes > 1 ? $" in {settings.Passes} passes" : "";
        return $"{settings.SpeedMmPerMin:0.#} mm/min at {settings.PowerPercent:0.#} %{passes}";
    }

    /// <summary>A speed that somebody would dial: two digits.</summary>
    public static double RoundSpeed(double mmPerMin)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(mmPerMin)) - 1);
        return Math.Round(mmPerMin / unit) * unit;
    }
}
