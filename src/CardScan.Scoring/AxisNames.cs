using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring;

/// <summary>What the horizontal axis of a curve is, with its unit.</summary>
internal static class AxisNames
{
    /// <summary>Energy.</summary>
    /// <param name="isAreal">True for J/mm², false for J/mm.</param>
    /// <param name="atSpeedMmPerMin">The speed at which it would do the same; null where speed does not count by itself.</param>
    /// <param name="speedExponent">The exponent by which other speeds were brought to that one; null where it is not named.</param>
    public static string Energy(bool isAreal, double? atSpeedMmPerMin = null, double? speedExponent = null)
    {
        // Files hold it.
        using IDisposable told = Voice.WriteFiles();
        List<(string, Figure)> values = [("unit", isAreal ? "area" : "line")];
        if (atSpeedMmPerMin is { } speed) values.Add(("speed", Speed(Math.Round(speed))));
        if (speedExponent is { } exponent) values.Add(("exponent", In(Unit.Contrast, exponent)));
        return Voice.Say("name.energy-axis", values);
    }

    /// <summary>The setting that changes along a line of tones: power or speed.</summary>
    public static string Of(Setting setting) => Voice.Say(setting == Setting.PowerPercent ? "name.power-axis" : "name.speed-axis");
}
