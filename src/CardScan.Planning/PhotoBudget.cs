using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Planning;

/// <summary>How many pixels a millimetre of the card gets in an ordinary phone's photo.</summary>
/// <remarks>
/// A photo of 12 megapixels, 4032 × 3024 px, in which the card fills four fifths of the frame. Markers need about 10 px/mm to
/// be found without trouble (docs/guide.md); a ladder's lines, a tenth of a millimetre or two wide, twice that.
/// </remarks>
internal static class PhotoBudget
{
    private const double LongPx = 4032, ShortPx = 3024, Filled = 0.8, LeastPxPerMm = 10, LeastOfLadderPxPerMm = 20;

    /// <summary>Scale of such a photo, px/mm.</summary>
    internal static double PxPerMm(CardSize card) => Filled * Math.Min(
        LongPx / Math.Max(card.WidthMm, card.HeightMm), ShortPx / Math.Min(card.WidthMm, card.HeightMm));

    internal static Advice? Hint(Plan plan)
    {
        double least = plan.Kind == CardKind.FocusLadder ? LeastOfLadderPxPerMm : LeastPxPerMm, found = PxPerMm(plan.Card);
        return found >= least ? null : new(Codes.CardLarge, ("width", Mm(plan.Card.WidthMm)), ("height", Mm(plan.Card.HeightMm)),
            ("found", In(Unit.PxPerMm, found)), ("least", In(Unit.PxPerMm, least)));
    }
}
