namespace CardScan.Calibration;

/// <summary>A true law of mark strength against effective dose, J/mm².</summary>
internal abstract record MarkLaw
{
    /// <summary>No mark is stronger: char still gives back a little light.</summary>
    protected const double Darkest = 0.97;

    /// <summary>Mark strength, 0 to below 1.</summary>
    public abstract double Strength(double dose);

    /// <summary>Its parameters under the names that the scoring gives them, where the scoring has this very law.</summary>
    public virtual IEnumerable<KeyValuePair<string, double>> Parameters => [];

    /// <summary>Name of the model that is this law; null where the scoring has none.</summary>
    public virtual string? ModelName => null;
}

/// <summary>plateau · (1 − exp(−((E − E₀)₊ / Eₛ)^g)).</summary>
internal sealed record SaturatingLaw(double Plateau, double ThresholdDose, double ScaleDose, double Shape) : MarkLaw
{
    public override string ModelName => "saturating-exponential";

    public override double Strength(double dose) =>
        Plateau * (1 - Math.Exp(-Math.Pow(Math.Max(0, dose - ThresholdDose) / ScaleDose, Shape)));

    public override IEnumerable<KeyValuePair<string, double>> Parameters =>
        [new("plateau", Plateau), new("thresholdDose", ThresholdDose), new("scaleDose", ScaleDose), new("shape", Shape)];
}

/// <summary>Four-parameter logistic: bottom + (top − bottom) / (1 + (E₅₀ / E)^h).</summary>
internal sealed record LogisticLaw(double Bottom, double Top, double MiddleDose, double Slope) : MarkLaw
{
    public override double Strength(double dose) => Bottom + (Top - Bottom) / (1 + Math.Pow(MiddleDose / dose, Slope));
}

/// <summary>A law that loses a share of its mark past some dose: a coat burns off, char turns to ash.</summary>
internal sealed record RiseThenFallLaw(MarkLaw Rise, double PeakDose, double LostShare) : MarkLaw
{
    public override double Strength(double dose)
    {
        double past = Math.Max(0, dose / PeakDose - 1);
        return Rise.Strength(dose) * (1 - LostShare * (1 - Math.Exp(-past * past)));
    }
}

/// <summary>Levels that jump: monotone, and no curve that a formula would give.</summary>
internal sealed record StaircaseLaw(double Lowest, (double FromDose, double Level)[] Steps) : MarkLaw
{
    public override double Strength(double dose) => Steps.LastOrDefault(step => dose >= step.FromDose, (0, Lowest)).Level;
}
