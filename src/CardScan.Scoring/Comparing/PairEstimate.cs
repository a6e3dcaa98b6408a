using CardScan.Model;

namespace CardScan.Scoring.Comparing;

/// <summary>What the models of both processes find of a pair.</summary>
internal sealed record PairEstimate
{
    /// <summary>Why no model could be held against the cells; null where one could.</summary>
    public Advice? Obstacle { get; init; }

    /// <summary>The test of equal shape; null where it could not be made.</summary>
    public ShapeTest? Shape { get; init; }

    /// <summary>The relative dose; null where shapes differ or nothing bounds it.</summary>
    public DoseEstimate? Dose { get; init; }

    /// <summary>
    /// The relative dose where light or tone curves may have stretched the marks of one card against the other's; null where nothing
    /// did, or nothing bounds it.
    /// </summary>
    public DoseEstimate? Stretched { get; init; }

    /// <summary>The curves to be drawn.</summary>
    public ValueList<ComparedCurve> Curves { get; init; } = [];

    /// <summary>Standard deviation of each cell's mark strength in the first and the later card, where a curve was fitted.</summary>
    public (IReadOnlyDictionary<CellAddress, double> First, IReadOnlyDictionary<CellAddress, double> Later)? Deviations { get; init; }
}

/// <summary>A relative dose with what is needed to carry a setting over.</summary>
/// <param name="LnRatio">ln of the later batch's dose over the first's.</param>
/// <param name="Low">Lower limit of its 95 % interval, ln.</param>
/// <param name="High">Upper limit of its 95 % interval, ln.</param>
/// <param name="TestLow">Lower limit of the 90 % interval that the equivalence test looks at, ln.</param>
/// <param name="TestHigh">Its upper limit, ln.</param>
/// <param name="EquivalenceProbability">Larger probability of the two one-sided tests.</param>
/// <param name="Model">Name of the common model.</param>
internal sealed record DoseEstimate(
    double LnRatio, double Low, double High, double TestLow, double TestHigh, double EquivalenceProbability, string Model)
{
    /// <summary>Exponent of speed over that of power; null where speed did not vary.</summary>
    public double? SpeedExponent { get; init; }

    /// <summary>Standard error of that; zero where it is taken as 1.</summary>
    public double SpeedExponentError { get; init; }

    /// <summary>Cuts: what the logit of a side being through gains with ln dose; null for engraved cards.</summary>
    public double? Steepness { get; init; }

    /// <summary>Standard error of <see cref="LnRatio"/>.</summary>
    public double StandardError => (High - Low) / 2 / NormalQuantile.TwoSided95;

    /// <summary>The later batch's strongest mark over the first's; null where they share it.</summary>
    public double? StrengthRatio { get; init; }

    /// <summary>The same, with no interval narrower than the measuring's own repeatability allows.</summary>
    /// <param name="standardError">
    /// Standard error that the difference of two readings has by itself, ln; zero where it is not known.
    /// </param>
    /// <param name="lnMargin">ln of the margin.</param>
    public DoseEstimate NoSurerThan(double standardError, double lnMargin)
    {
        if (!(standardError > 0)) return this;
        double probability = TwoOneSidedTests.Probability((LnRatio + lnMargin) / standardError, (LnRatio - lnMargin) / standardError,
            double.PositiveInfinity);
        return this with
        {
            Low = Math.Min(Low, LnRatio - NormalQuantile.TwoSided95 * standardError),
            High = Math.Max(High, LnRatio + NormalQuantile.TwoSided95 * standardError),
            TestLow = Math.Min(TestLow, LnRatio - NormalQuantile.OneSided95 * standardError),
            TestHigh = Math.Max(TestHigh, LnRatio + NormalQuantile.OneSided95 * standardError),
            EquivalenceProbability = Math.Max(EquivalenceProbability, probability),
        };
    }
}
