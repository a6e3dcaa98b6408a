namespace CardScan.Vision;

/// <summary>
/// White light that a coat mirrors onto the picture of the card, wide and smooth: brightness cannot tell it from a brighter
/// lamp, but it takes bare material's colour. See docs/method/vision.md, "Light".
/// </summary>
/// <remarks>
/// Linear light of colour c (per luminance) under a veil of v times its luminance has the colour (c + v)/(1 + v), so its
/// distance from white shrinks by 1/(1 + v). The distance is fitted over the card as the light is; the fullest colour of the
/// card is taken to have no veil. Grey material has no colour to lose, and its veil is not seen.
/// </remarks>
internal sealed class VeilField
{
    /// <summary>Light of two sources or a tone curve moves a channel against the others by about this much across a card (no source).</summary>
    private const double ColourOfLight = 0.007;

    /// <summary>Material that differs from white by less than this is grey: what little colour it has is the light's and the file's.</summary>
    private const double LeastColour = 0.04;

    /// <summary>What chance explains, in standard errors of the fit, is no veil.</summary>
    private const double SureErrors = 2;

    /// <summary>Share of the bare material whose colour is fuller than what counts as unveiled: a field overshoots at a card's rim.</summary>
    private const double Fuller = 0.1;

    /// <summary>A veil of more than this takes nearly all colour, and how much is a guess.</summary>
    private const double MostVeil = 1;

    /// <summary>Nothing is known of a veil.</summary>
    public static readonly VeilField None = new(null, 0, 0);

    private readonly double[]? _colour;
    private readonly double _full, _doubt;

    private VeilField(double[]? colour, double full, double doubt) => (_colour, _full, _doubt) = (colour, full, doubt);

    /// <summary>Fits the field.</summary>
    /// <param name="rows">Basis of the light's field at each patch.</param>
    /// <param name="patches">Bare material.</param>
    /// <param name="plain">How plain each patch is, 0 to 1: labels and char have colours of their own.</param>
    public static VeilField Fit(double[][] rows, Patch[] patches, double[] plain)
    {
        int[] used = [.. Enumerable.Range(0, patches.Length).Where(i => plain[i] > 0.1 && patches[i].ClippedShare == 0)];
        if (used.Length < 4 * rows[0].Length) return None;
        double[][] from = [.. used.Select(i => Whiteless(patches[i].Rgb))];
        double[] usual = [.. Enumerable.Range(0, 3).Select(channel => Robust.Median(from.Select(colour => colour[channel])))];
        double square = Dot(usual, usual);
        if (square < LeastColour * LeastColour) return None;

        double[][] places = [.. used.Select(i => rows[i])];
        (double[] field, _, double scatter) = LightField.Fit(places, [.. from.Select(colour => Dot(colour, usual) / square)]);
        double[] fullest = [.. places.Select(place => LightField.Evaluate(field, place)).OrderDescending()];
        double error = scatter * Math.Sqrt((double)rows[0].Length / used.Length);
        VeilField veil = new(field, fullest[(int)(Fuller * fullest.Length)], ColourOfLight / Math.Sqrt(square) + SureErrors * error);
        veil.Usual = Robust.Median(places.Select(veil.At));
        return veil;
    }

    /// <summary>The veil over the middle one of the bare places.</summary>
    public double Usual { get; private set; }

    /// <summary>The veil at a place, as a share of bare material's luminance; 0 where chance and the light's own colour explain it.</summary>
    /// <param name="basis">Basis of the light's field there.</param>
    public double At(double[] basis)
    {
        if (_colour is null) return 0;
        double left = Math.Max(LightField.Evaluate(_colour, basis) / _full, 1 / (1 + MostVeil));
        double veil = 1 / left - 1;
        return veil > _doubt ? veil : 0;
    }

    /// <summary>What a colour differs from white by, per luminance.</summary>
    private static double[] Whiteless(LinearRgb rgb) => [rgb.R / rgb.Luminance - 1, rgb.G / rgb.Luminance - 1, rgb.B / rgb.Luminance - 1];

    private static double Dot(double[] a, double[] b) => a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
