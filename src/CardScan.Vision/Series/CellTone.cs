using CardScan.Model;

namespace CardScan.Vision;

/// <summary>Light of a cell and of the bare material beside it, as the photo's codes give it by sRGB.</summary>
/// <param name="At">The cell's middle on the card, mm.</param>
/// <param name="Mark">The cell.</param>
/// <param name="Bare">Bare material, as it would look in the cell's place.</param>
internal readonly record struct CellTone(PlanePoint At, LinearRgb Mark, LinearRgb Bare)
{
    /// <summary>The cell against its bare material, natural log, and the luminance of that.</summary>
    public (double Log, double Bare) Ratio => (Math.Log(Math.Max(Mark.Luminance, 1e-5) / Bare.Luminance), Bare.Luminance);
}

/// <summary>What a photo tells of the phone's tone curve, beside others of the same card.</summary>
/// <param name="Tones">The card's cells, in the plan's order; null for those that are not wholly in the photo.</param>
/// <param name="Shot">How it was taken.</param>
/// <param name="Card">Size of the card.</param>
internal sealed record ToneEvidence(ValueList<CellTone?> Tones, ShotData Shot, CardSize Card)
{
    /// <summary>How bright the card is in the photo, natural log of bare material's light in green.</summary>
    public double Level { get; } = Robust.Median(Tones.OfType<CellTone>().Select(tone => Math.Log(Math.Max(tone.Bare.G, 1e-5))));
}
