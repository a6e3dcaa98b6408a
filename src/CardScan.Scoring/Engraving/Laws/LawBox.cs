namespace CardScan.Scoring.Engraving;

/// <summary>The range of every parameter of the law; a parameter with equal limits is held.</summary>
/// <param name="Lower">Lower limits, in the order of <see cref="DoseLaw"/>.</param>
/// <param name="Upper">Upper limits.</param>
internal sealed record LawBox(double[] Lower, double[] Upper)
{
    /// <summary>Parameters that are estimated.</summary>
    public int FreeCount => Lower.Zip(Upper).Count(limits => limits.First < limits.Second);

    public bool IsFixed(int parameter) => Lower[parameter] == Upper[parameter];

    public double[] Clamp(double[] p) => [.. p.Select((value, j) => Math.Clamp(value, Lower[j], Upper[j]))];

    public LawBox Holding(int parameter, double value)
    {
        double[] lower = [.. Lower];
        double[] upper = [.. Upper];
        lower[parameter] = upper[parameter] = value;
        return new(lower, upper);
    }

    /// <summary>The box for a card.</summary>
    public static LawBox For(EngravedCard card, DoseLaw law)
    {
        IReadOnlyList<ShapeRange> shape = law.Curve.Shape;
        LawBox box = new(
            [0, 0.1, .. Enumerable.Repeat(-5.0, law.FocusCount), .. shape.Select(range => range.Lower)],
            [1e6, 3, .. Enumerable.Repeat(5.0, law.FocusCount), .. shape.Select(range => range.Upper)]);
        return card.TellsSpeedFromEnergy ? box : box.Holding(DoseLaw.SpeedExponent, 1);
    }
}
