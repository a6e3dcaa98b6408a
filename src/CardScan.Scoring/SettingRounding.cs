namespace CardScan.Scoring;

/// <summary>Settings as somebody would dial them.</summary>
internal static class SettingRounding
{
    /// <summary>A speed of two digits.</summary>
    public static double RoundSpeed(double mmPerMin)
    {
        double unit = Math.Pow(10, Math.Floor(Math.Log10(mmPerMin)) - 1);
        return Math.Round(mmPerMin / unit) * unit;
    }
}
