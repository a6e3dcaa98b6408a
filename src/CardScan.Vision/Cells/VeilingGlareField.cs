namespace CardScan.Vision;

/// <summary>
/// Veiling glare, a veil for short: light that a coat mirrors onto the picture of the card, wide and smooth. It is added, where a
/// lamp's light multiplies.
/// Bare material alone cannot tell the two apart. See docs/method/vision.md, "Light".
/// </summary>
/// <remarks>
/// Three witnesses are heard. <em>Markers</em>: burned alike, they look paler where a veil lies on them. <em>Lamp and lens</em>:
/// unevenness that one far lamp and the lens's loss towards the corners explain needs no veil. <em>Colour</em>: see
/// <see cref="ColourLoss"/>. What the markers are sure of counts whole, what they leave open as far as lamp and lens do not
/// explain it; colour, where there is some, bounds both.
/// </remarks>
internal sealed class VeilingGlareField
{
    /// <summary>Share of the bare material that is darker than what counts as unveiled: a field overshoots at a card's rim.</summary>
    private const double Darker = 0.1;

    /// <summary>A veil of more than this takes nearly all contrast, and how much is a guess.</summary>
    private const double MostVeil = 1;

    /// <summary>
    /// The field has six terms more than lamp and lens, and finds some of the grain to follow: so much more scatter about
    /// those is chance.
    /// </summary>
    private const double ScatterByChance = 1.05;

    /// <summary>
    /// Lamps and lenses follow their laws no better than this, natural log (no source): near lamps are not quite even,
    /// lenses not quite round.
    /// </summary>
    private const double LeastScatter = 0.01;

    private readonly double _least, _share;
    private readonly ColourLoss? _colour;

    private VeilingGlareField(double least, double share, ColourLoss? colour) => (_least, _share, _colour) = (least, share, colour);

    /// <summary>Fits the field.</summary>
    /// <param name="light">The light's field.</param>
    /// <param name="basis">Basis of the light's field at a place.</param>
    /// <param name="surface">The card.</param>
    /// <param name="patches">Bare material.</param>
    /// <param name="weights">How plain each patch is, 0 to 1: labels and char have levels and colours of their own.</param>
    /// <param name="marks">What the markers show.</param>
    public static VeilingGlareField Fit(LightField light, Func<PlanePoint, double[]> basis, CardSurface surface, Patch[] patches,
        double[] weights, MarkerMark[] marks)
    {
        int[] plain = [.. Enumerable.Range(0, patches.Length).Where(i => weights[i] > 0.1)];
        PlanePoint[] places = [.. plain.Select(i => patches[i].Centre)];
        double[] levels = [.. places.Select(light.LogLuminanceAt).Order()];
        double least = levels[(int)(Darker * levels.Length)];
        VeilingGlareShare share = VeilingGlareShare.Of(marks, place => Math.Max(0, light.LogLuminanceAt(place) - least));

        double scatter = Robust.Deviation(plain.Select(i => patches[i].LogLuminance - light.LogLuminanceAt(patches[i].Centre)));
        double aboutPlain = PlainLight.ScatterAbout(surface, places, [.. plain.Select(i => patches[i].LogLuminance)],
            [.. plain.Select(i => weights[i])]);
        // What is left of the variance, as a share of the light's unevenness itself: its root.
        double unexplained = Math.Sqrt(Math.Max(0, 1 - Math.Pow(Math.Max(ScatterByChance * scatter, LeastScatter) / aboutPlain, 2)));
        return new(least, Math.Sqrt(share.Sure * share.Sure + unexplained * share.Open * share.Open),
            ColourLoss.Fit(basis, patches, weights));
    }

    /// <summary>
    /// The veil that may lie over a place, as a share of bare material's luminance (one standard deviation, not below 0).
    /// </summary>
    /// <param name="logLuminance">The light's field there.</param>
    /// <param name="basis">Its basis there.</param>
    public double At(double logLuminance, double[] basis)
    {
        double share = Math.Min(_share, 1) * Math.Max(0, 1 - Math.Exp(_least - logLuminance));
        double veil = Math.Min(share / Math.Max(1 - share, 1e-3), MostVeil);
        return _colour?.Bounded(veil, basis) ?? veil;
    }
}
