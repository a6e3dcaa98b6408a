namespace CardScan.Scoring.Engraving;

/// <summary>A law at one set of parameters: what is the same for every setting is found once, its peak above all.</summary>
internal sealed class LawPoint
{
    private readonly DoseLaw _law;
    private readonly double[] _parameters;
    private readonly double _lnHighest;
    private readonly double _lnPeak;
    private readonly double _strongest;

    public LawPoint(DoseLaw law, ReadOnlySpan<double> parameters)
    {
        (_law, _parameters) = (law, parameters.ToArray());
        Peak = law.Curve.Peak(law.ShapeOf(parameters));
        _lnPeak = Math.Log(Peak);
        _lnHighest = law.LnHighestDose(parameters);
        _strongest = law.Curve.Value(law.ShapeOf(parameters), Peak);
    }

    /// <summary>Part of the highest dose at which the mark is strongest inside the card.</summary>
    public double Peak { get; }

    /// <summary>Share of the strongest mark at a burned cell's setting or one next to it, 0 to 1 inside the card.</summary>
    public double ShareAt(int burned, double lnPowerChange = 0, double lnSpeedChange = 0) => ShareAt(LnPartAt(burned, lnPowerChange, lnSpeedChange));

    /// <summary>Its shortfall, on the scale of <see cref="Shortfall"/>.</summary>
    public double ShortfallAt(int burned, bool isPeaked, double lnPowerChange = 0, double lnSpeedChange = 0)
    {
        double lnPart = LnPartAt(burned, lnPowerChange, lnSpeedChange);
        return Shortfall.Scaled(ShareAt(lnPart), isPeaked, isPeaked && lnPart > _lnPeak);
    }

    private double LnPartAt(int burned, double lnPowerChange, double lnSpeedChange) =>
        _law.LnEffectiveDose(_parameters, burned) + lnPowerChange - _parameters[DoseLaw.SpeedExponent] * lnSpeedChange - _lnHighest;

    private double ShareAt(double lnPart)
    {
        Span<double> one = [lnPart];
        _law.Curve.Evaluate(_law.ShapeOf(_parameters), one);
        return one[0] / _strongest;
    }
}
