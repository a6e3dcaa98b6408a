using System.Globalization;

namespace CardScan.Planning;

/// <summary>Where a focus lies, in words.</summary>
internal static class FocusWords
{
    internal static string Of(double offsetMm) => offsetMm == 0
        ? "ON THE SURFACE"
        : string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(offsetMm):0.#####} MM {(offsetMm < 0 ? "BELOW" : "ABOVE")} THE SURFACE");
}
