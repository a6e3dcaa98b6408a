using CardScan.Model;

namespace CardScan.Vision;

/// <summary>A white veil, by the colour that bare material loses to it.</summary>
/// <remarks>
/// Linear light of colour c (per luminance) under a veil of v times its luminance has the colour (c + v)/(1 + v), so its
/// distance from white shrinks by 1/(1 + v). The distance is fitted over the card as the light is; the fullest colour of the
/// card is taken to have no veil. Two lamps, the lens and tone curves move colours too, but not just towards white: what is
/// seen to move across that direction, as much may move along it.
/// </remarks>
internal sealed class ColourLoss
{
    /// <summary>What chance explains, in standard errors of the fit, is no veil.</summary>
    private const double SureErrors = 2;

    /// <summary>
    /// Share of the bare material whose colour is fuller than what counts as unveiled: a field overshoots at a card's rim.
    /// </summary>
    private const double Fuller = 0.1;

    /// <summary>
    /// A dark mark's contrast moves by about the veil's share, and 0.05 is as little as the eye sees: material too grey to tell
    /// a veil to that is no witness.
    /// </summary>
    private const double MostDoubt = 0.05;

    /// <summary>A veil of more than this takes nearly all colour, and how much is a guess.</summary>
    private const double MostVeil = 1;

    private readonly double[] _colour;
    private readonly double _full, _doubt;

    private ColourLoss(double[] colour, double full, double doubt) => (_colour, _full, _doubt) = (colour, full, doubt);

    /// <summary>Fits the loss; null where too little is known, or the material is too grey to tell.</summary>
    /// <param name="basis">Basis of the light's field at a place.</param>
    /// <param name="patches">Bare material.</param>
    /// <param name="plain">How plain each patch is, 0 to 1.</param>
    public static ColourLoss? Fit(Func<PlanePoint, double[]> basis, Patch[] patches, double[] plain)
    {
        Patch[] used = [.. patches.Where((patch, i) => plain[i] > 0.1 && patch.ClippedShare == 0)];
        double[][] places = [.. used.Select(patch => basis(patch.Centre))];
        if (used.Length < 4 * basis(patches[0].Centre).Length) return null;
        (double Red, double Blue)[] from = [.. used.Select(patch => (patch.Rgb.R / patch.Rgb.Luminance - 1,
            patch.Rgb.B / patch.Rgb.Luminance - 1))];
        (double red, double blue) = (Robust.Median(from.Select(colour => colour.Red)), Robust.Median(from.Select(colour => colour.Blue)));
        double square = red * red + blue * blue;
        if (square == 0) return null;

        (double[] field, double error) = Along(red / square, blue / square);
        (double[] aside, double asideError) = Along(-blue / square, red / square);
        double[] fullest = [.. places.Select(place => LightField.Evaluate(field, place)).OrderDescending()];
        double[] strayed = [.. places.Select(place => LightField.Evaluate(aside, place)).Order()];
        double stray = strayed[(int)((1 - Fuller) * strayed.Length)] - strayed[(int)(Fuller * strayed.Length)];
        double full = fullest[(int)(Fuller * fullest.Length)];
        double step = StepAt(Robust.Median(used.Select(patch => patch.Rgb.Luminance))) / Math.Sqrt(square);
        double doubt = Math.Max(stray, step) + SureErrors * Math.Max(error, asideError);
        return full <= 0 || doubt > MostDoubt ? null : new(field, full, doubt);

        // JPEG rounds the mean colour of a block to whole codes, so it is off by up to half a code, and even material's to the same
        // side for long stretches.
        static double StepAt(double luminance) => SrgbCurve.Linear(SrgbCurve.Code(luminance) + 0.5 / 255) / luminance - 1;

        (double[] Field, double Error) Along(double perRed, double perBlue)
        {
            (double[] coefficients, _, double scatter) =
                LightField.Fit(places, [.. from.Select(colour => colour.Red * perRed + colour.Blue * perBlue)]);
            return (coefficients, scatter * Math.Sqrt((double)places[0].Length / places.Length));
        }
    }

    /// <summary>A veil that other witnesses allow, kept within what the colour tells.</summary>
    /// <param name="veil">As a share of bare material's luminance.</param>
    /// <param name="basis">Basis of the light's field there.</param>
    public double Bounded(double veil, double[] basis)
    {
        double left = Math.Max(LightField.Evaluate(_colour, basis) / _full, 1 / (1 + MostVeil));
        double seen = 1 / left - 1;
        return Math.Clamp(veil, seen > _doubt ? seen : 0, Math.Max(0, seen) + _doubt);
    }
}
