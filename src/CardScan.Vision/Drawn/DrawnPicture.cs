using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Vision;

/// <summary>
/// Pictures of a card that are no photos: drawings of its plan, photos with marks drawn over them, screenshots of a page.
/// </summary>
/// <remarks>
/// All of them show the card as no hand can hold a phone, without turn, tilt or distortion; nothing else is looked at in
/// a picture that does not. Margins that were measured: docs/method/photo-check.md, "Pictures that are no photos".
/// </remarks>
internal static class DrawnPicture
{
    /// <summary>
    /// Corners nearer to a square view than this were drawn, mm: the pictures that were tried miss it by 0.05 at most,
    /// photos by 3.7 at least.
    /// </summary>
    private const double MostMissMm = 0.15;

    /// <summary>More bare places than this of exactly one colour were drawn: drawings had 0.67 or more, photos 0.25 at most.</summary>
    private const double MostOfOneColour = 0.5;

    /// <summary>The refusal of a file that names CardScan as its maker.</summary>
    public static Refusal ByItsTexts { get; } = Drawn("marked");

    /// <summary>A reason not to measure, or null.</summary>
    /// <param name="surface">The card as the picture shows it.</param>
    /// <param name="plan">Its plan.</param>
    public static Refusal? Check(CardSurface surface, Plan plan)
    {
        if (SquareView.MissMm(surface, plan.Card) > MostMissMm) return null;
        double share = FlatBareMaterial.ShareOfOneColour(surface, plan);
        if (share > MostOfOneColour) return Drawn("drawing", ("share", Share(share)));
        if (DrawnLines.AreAround(surface, plan)) return Drawn("lines");
        return PageBorder.IsAround(surface, plan.Card) ? Drawn("border") : null;
    }

    /// <param name="kind">What it is, by its key in the message.</param>
    /// <param name="values">What else the message needs.</param>
    private static Refusal Drawn(string kind, params (string, Figure)[] values) =>
        Refusal.OfInput(Codes.NotAPhoto, [("kind", kind), .. values]);
}
