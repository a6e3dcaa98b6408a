namespace CardScan.Planning.Tests;

/// <summary>
/// The rule by which the drawing's colours were chosen. Black comes first. Each next colour is the candidate whose least difference
/// from white and from all colours before it is greatest; among candidates that differ by <see cref="LeastStep"/> from the one just
/// before; of equals, the first in the order of red, green, blue.
/// </summary>
internal static class ColourRule
{
    /// <summary>Least difference of neighbours in the list, CIEDE2000.</summary>
    internal const double LeastStep = 20;

    /// <summary>Least difference from black, CIEDE2000.</summary>
    internal const double LeastFromBlack = 15;

    /// <summary>Least contrast with the white ground: WCAG 2.2, success criterion 1.4.11.</summary>
    internal const double LeastContrast = 3;

    /// <summary>Sixteen even levels a channel.</summary>
    private const int Levels = 16;

    internal static readonly SeenColour Black = new("000000"), White = new("FFFFFF");

    internal static IEnumerable<SeenColour> Candidates() =>
        from red in Enumerable.Range(0, Levels)
        from green in Enumerable.Range(0, Levels)
        from blue in Enumerable.Range(0, Levels)
        let colour = new SeenColour($"{red * 17:X2}{green * 17:X2}{blue * 17:X2}")
        where 1.05 / (colour.Luminance01 + 0.05) >= LeastContrast && colour.LeastDifferenceTo(Black) >= LeastFromBlack
        select colour;

    internal static IEnumerable<SeenColour> Chosen(int count)
    {
        List<SeenColour> left = [.. Candidates()];
        double[] nearest = [.. left.Select(colour => Math.Min(colour.LeastDifferenceTo(Black), colour.LeastDifferenceTo(White)))];
        SeenColour last = Black;
        yield return last;
        for (int i = 1; i < count; i++)
        {
            int best = -1;
            for (int j = 0; j < left.Count; j++)
            {
                bool isBetter = nearest[j] > 0 && (best < 0 || nearest[j] > nearest[best]);
                if (isBetter && left[j].LeastDifferenceTo(last) >= LeastStep) best = j;
            }

            last = left[best];
            yield return last;
            for (int j = 0; j < left.Count; j++) nearest[j] = Math.Min(nearest[j], left[j].LeastDifferenceTo(last));
        }
    }
}
