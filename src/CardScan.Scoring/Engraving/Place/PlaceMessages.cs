using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Scoring.Engraving;

/// <summary>What a maker reads of a corner that got less energy.</summary>
internal static class PlaceMessages
{
    /// <summary>Chance of a full mark in the weak corner from which on a setting holds there.</summary>
    private const double Holds = 0.8;

    /// <param name="place">The corner.</param>
    /// <param name="chanceThere">Chance that the recommended setting is a full mark there; null where none is recommended.</param>
    public static Advice Of(PlaceTrend place, double? chanceThere)
    {
        (string, Figure)[] values = [("corner", place.Corner), ("weaker", Share(1 - Math.Exp(place.LnDose)))];
        return chanceThere is { } chance
            ? new(Codes.PlaceTrend, [.. values, ("holds", Is(chance >= Holds)), ("chance", Share(chance))])
            : new(Codes.PlaceTrend, values);
    }
}
