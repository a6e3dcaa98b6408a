using CardScan.Model;

namespace CardScan.Vision;

/// <summary>
/// The border at which a rectified photo ends within a page: the same distance from the card's rim on two opposite sides,
/// one even colour behind it.
/// </summary>
internal static class PageBorder
{
    /// <summary>Strips before and behind the border, as distances from the card's rim, mm.</summary>
    private static readonly (double From, double To) Before = (Rectifier.MarginMm - 1, Rectifier.MarginMm - 0.3),
        Behind = (Rectifier.MarginMm + 0.4, Rectifier.MarginMm + 1.2);

    private const double StepMm = 0.2;

    /// <summary>Fewer places than this are no strip: the picture ends there.</summary>
    private const int FewestPlaces = 50;

    /// <summary>Share of the strip behind the border that has its colour, and what counts as that: a JPEG rings at the border.</summary>
    private const double LeastEvenShare = 0.6;
    private const int MostOffCodes = 4;

    /// <summary>Colours of the two sides are alike, and the photo's is another, by these many codes.</summary>
    private const int MostApartCodes = 6, LeastStepCodes = 8;

    /// <summary>True where there is such a border.</summary>
    /// <param name="surface">The card as the picture shows it.</param>
    /// <param name="card">Its size.</param>
    public static bool IsAround(CardSurface surface, CardSize card)
    {
        Strip?[] sides = [.. Enumerable.Range(0, 4).Select(side => PageBehind(surface, card, side))];
        return AreOnePage(sides[0], sides[2]) || AreOnePage(sides[1], sides[3]);
    }

    private static bool AreOnePage(Strip? one, Strip? other) =>
        one is not null && other is not null && one.CodesFrom(other) <= MostApartCodes;

    private static Strip? PageBehind(CardSurface surface, CardSize card, int side) =>
        StripOf(surface, card, side, Before) is { } photo && StripOf(surface, card, side, Behind) is { EvenShare: >= LeastEvenShare } page
            && page.CodesFrom(photo) >= LeastStepCodes
            ? page
            : null;

    private static Strip? StripOf(CardSurface surface, CardSize card, int side, (double From, double To) range)
    {
        List<(byte R, byte G, byte B)> codes = [];
        double length = side % 2 == 0 ? card.WidthMm : card.HeightMm;
        for (double mm = range.From; mm <= range.To; mm += StepMm)
        {
            for (double along = 0; along <= length; along += StepMm)
            {
                PlanePoint at = side switch
                {
                    0 => new(along, -mm),
                    1 => new(card.WidthMm + mm, along),
                    2 => new(along, card.HeightMm + mm),
                    _ => new(-mm, along),
                };
                if (surface.CodesAt(at) is { } colour) codes.Add(colour);
            }
        }

        if (codes.Count < FewestPlaces) return null;
        Strip middle = new(Median(colour => colour.R), Median(colour => colour.G), Median(colour => colour.B), 0);
        int even = codes.Count(colour => middle.CodesFrom(new(colour.R, colour.G, colour.B, 0)) <= MostOffCodes);
        return middle with { EvenShare = even / (double)codes.Count };

        int Median(Func<(byte R, byte G, byte B), int> channel) => codes.Select(channel).Order().ElementAt(codes.Count / 2);
    }

    /// <summary>Colour of a strip, and the share of it that has that colour.</summary>
    private sealed record Strip(int R, int G, int B, double EvenShare)
    {
        public int CodesFrom(Strip other) => Math.Max(Math.Abs(R - other.R), Math.Max(Math.Abs(G - other.G), Math.Abs(B - other.B)));
    }
}
