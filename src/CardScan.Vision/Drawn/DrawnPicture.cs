using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Pictures of a card that are no photos: drawings of its plan, photos with marks drawn over them, screenshots of a page.</summary>
/// <remarks>
/// All of them show the card as no hand can hold a phone, without turn, tilt or distortion; nothing else is looked at in
/// a picture that does not. Margins that were measured: docs/method/photo-check.md, "Pictures that are no photos".
/// </remarks>
internal static class DrawnPicture
{
    /// <summary>Corners nearer to a square view than this were drawn, mm: the pictures that were tried miss it by 0.05 at most, photos by 3.7 at least.</summary>
    private const double MostMissMm = 0.15;

    /// <summary>More bare places than this of exactly one colour were drawn: drawings had 0.67 or more, photos 0.25 at most.</summary>
    private const double MostOfOneColour = 0.5;

    /// <summary>The refusal of a file that names CardScan as its maker.</summary>
    public static Refusal ByItsTexts { get; } = Refusal.OfInput(
        "not-a-photo", "CardScan drew this picture itself, a preview or an annotated picture", "burn the card, and give a photo of it as the phone saved it");

    /// <summary>A reason not to measure, or null.</summary>
    /// <param name="surface">The card as the picture shows it.</param>
    /// <param name="plan">Its plan.</param>
    public static Refusal? Check(CardSurface surface, Plan plan)
    {
        if (SquareView.MissMm(surface, plan.Card) > MostMissMm) return null;
        double share = FlatGround.ShareOfOneColour(surface, plan);
        if (share > MostOfOneColour)
            return Drawn($"bare material has exactly one colour in {share:P0} of the places looked at, and the card is seen without any turn or tilt: this is a drawing", "burn the card, and give a photo of it as the phone saved it");
        if (DrawnLines.AreAround(surface, plan))
            return Drawn("lines and labels are drawn around the cells, and the card is seen without any turn or tilt: this is an annotated picture, or a part of a page", "give the photo itself, as the phone saved it");
        return PageBorder.IsAround(surface, plan.Card)
            ? Drawn("the card's surroundings end in a straight border with one even colour behind it, and the card is seen without any turn or tilt: this is an annotated picture, or a picture of a page", "give the photo itself, as the phone saved it")
            : null;
    }

    private static Refusal Drawn(string seen, string remedy) => Refusal.OfInput("not-a-photo", seen, remedy);
}
