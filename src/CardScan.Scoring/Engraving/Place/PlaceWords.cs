using CardScan.Model;
using static CardScan.Scoring.SettingWords;

namespace CardScan.Scoring.Engraving;

/// <summary>What a maker reads of a corner that got less energy.</summary>
internal static class PlaceWords
{
    /// <summary>Chance of a full mark in the weak corner from which on a setting holds there.</summary>
    private const double Holds = 0.8;

    /// <param name="place">The corner.</param>
    /// <param name="chanceThere">Chance that the recommended setting is a full mark there; null where none is recommended.</param>
    public static Advice Of(PlaceTrend place, double? chanceThere)
    {
        double weaker = 100 * (1 - Math.Exp(place.LnDose));
        string setting = chanceThere is not { } chance ? ""
            : chance >= Holds ? $" The recommended setting is a full mark there too, with {Percent(chance)} probability."
            : $" The recommended setting is a full mark there with {Percent(chance)} probability only: put that right first, or go about {weaker:0} % slower there.";
        return new("place-trend",
            $"the {place.Corner} corner of the card came out as if it got about {weaker:0} % less energy than its settings say: check the focus and whether the bed is level there, and that smoke is drawn off.{setting}");
    }
}
