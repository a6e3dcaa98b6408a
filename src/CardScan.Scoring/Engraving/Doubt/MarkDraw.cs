using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Engraving.Doubt;

/// <summary>One guess at a material's marks: how a law's parameters and its deviations are off what was fitted.</summary>
internal sealed class MarkDraw
{
    /// <summary>Strength that a strongest mark is taken to have at least, so that shares of it stay finite.</summary>
    public const double Faintest = 1e-9;

    private readonly double[] _numbers;
    private readonly double[] _scaledResiduals;
    private readonly double _variance;

    public MarkDraw(int law, LawPosterior posterior, PosteriorStep step, Random chance)
    {
        Law = law;
        _variance = Math.Max(step.Square / ChiSquared.Sample(chance, step.Freedom), posterior.Fit.StatedPart);
        _numbers = new double[step.Mean.Length];
        Normal.Samples(chance, _numbers, 0, Math.Sqrt(_variance));
        step.Root.BackSubstitute(_numbers);
        for (int k = 0; k < _numbers.Length; k++) _numbers[k] += step.Mean[k];
        Strengths = StrengthsAt(posterior.Burned);
        Strongest = Math.Max(Strengths.Max(), Faintest);
        _scaledResiduals = posterior.ScaledResiduals(_numbers);
    }

    /// <summary>Index of its law.</summary>
    public int Law { get; }

    /// <summary>One of the numbers that make the draw.</summary>
    public double Number(int index) => _numbers[index];

    /// <summary>Strength of each burned cell, the used ones first.</summary>
    public double[] Strengths { get; }

    /// <summary>Strongest of them.</summary>
    public double Strongest { get; }

    /// <summary>Chance of a cell, in its own deviation by the fit of the law.</summary>
    public double Chance => Math.Sqrt(_variance);

    /// <summary>−2 ln of the likelihood of one used cell, up to a constant of the draw.</summary>
    public double DevianceOf(int cell) => _scaledResiduals[cell] * _scaledResiduals[cell] / _variance;

    /// <summary>Strengths at some settings.</summary>
    public double[] StrengthsAt(SettingRows rows)
    {
        double[] strengths = new double[rows.Count];
        rows.Fill(_numbers, strengths);
        return strengths;
    }

    /// <summary>The same where there is room for them.</summary>
    public void Fill(SettingRows rows, Span<double> strengths) => rows.Fill(_numbers, strengths);
}
