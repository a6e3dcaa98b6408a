using System.Text.Json.Serialization;

namespace CardScan.Model;

/// <summary>What came of comparing two readings.</summary>
public enum PairVerdict
{
    /// <summary>The doses are equal within the margin.</summary>
    Equal,

    /// <summary>The second needs another dose, and the change is known.</summary>
    Different,

    /// <summary>Neither equality nor a difference is shown.</summary>
    Unclear,

    /// <summary>The curves have different shapes: no one factor on dose turns the first into the second.</summary>
    OtherShape,
}

/// <summary>A later reading against the first.</summary>
public sealed record ComparedPair : Extensible
{
    /// <summary>Label of the first.</summary>
    public required string Reference { get; init; }

    /// <summary>Label of the later one.</summary>
    public required string Other { get; init; }

    /// <summary>The one setting to use now; absent in files of earlier versions.</summary>
    public BatchAnswer? Answer { get; init; }

    /// <summary>What came of it.</summary>
    public required PairVerdict Verdict { get; init; }

    /// <summary>
    /// What to change, or why nothing can be said: the <see cref="Reasons"/> one after the other; of a file without them, its text.
    /// </summary>
    [JsonRequired]
    public string Summary { get => Reasons.Count > 0 ? Reason.Text(Reasons) : field; init; } = "";

    /// <summary>The same sentence by sentence.</summary>
    public ValueList<Reason> Reasons { get; init => field = value ?? []; } = [];

    /// <summary>Dose that the later one needs over that of the first; absent where none can be claimed.</summary>
    public RelativeDose? RelativeDose { get; init; }

    /// <summary>Whether the two curves have the same shape; absent where it could not be tested.</summary>
    public ShapeTest? Shape { get; init; }

    /// <summary>Whether the doses are equal within the margin; absent without a relative dose.</summary>
    public EquivalenceTest? Equivalence { get; init; }

    /// <summary>The first's recommended setting, carried over; absent where there is nothing to change or nothing to carry.</summary>
    public SettingChange? Change { get; init; }

    /// <summary>What to know beside: what may be the cause, and what the comparison does not tell.</summary>
    public ValueList<Advice> Notes { get; init => field = value ?? []; } = [];

    /// <summary>Cell by cell, later less first; empty where the plans differ in their settings.</summary>
    public ValueList<CellDifference> Cells { get; init => field = value ?? []; } = [];

    /// <summary>Agreement of the cells' darkness; absent where the plans differ or fewer than three cells can be paired.</summary>
    public Agreement? Agreement { get; init; }

    /// <summary>The two curves to be drawn over one dose, the first's before the later one's; empty where none was fitted.</summary>
    public ValueList<ComparedCurve> Curves { get; init => field = value ?? []; } = [];
}

/// <summary>Dose that one batch needs over that of another, for the same effect.</summary>
/// <param name="Value">Best estimate, greater than zero.</param>
/// <param name="Low">Lower limit of its 95 % interval.</param>
/// <param name="High">Upper limit of its 95 % interval.</param>
/// <param name="Model">Name of the common model; docs/method/comparing.md.</param>
public sealed record RelativeDose(double Value, double Low, double High, string Model) : Extensible
{
    /// <summary>Exponent of speed over that of power: 1 where only energy counts. Absent where speed did not vary.</summary>
    public double? SpeedExponent { get; init; }

    /// <summary>
    /// The later card's strongest mark over the first's, at the same place of the curve; absent where both share it.
    /// The relative dose is then that for the same share of each one's own strongest mark.
    /// </summary>
    public double? StrengthRatio { get; init; }
}

/// <summary>A test of equal shape: separate curves against one curve with a factor on dose.</summary>
/// <param name="Statistic">
/// F for engraved cards; for cuts twice the gain of penalised log-likelihood, the largest of the coefficients tested.
/// </param>
/// <param name="Probability">Probability of shapes this different by chance.</param>
/// <param name="Level">Probability below which they count as different.</param>
/// <param name="AreAlike">False where they do.</param>
public sealed record ShapeTest(double Statistic, double Probability, double Level, bool AreAlike) : Extensible
{
    /// <summary>Degrees of freedom of the difference.</summary>
    public required int DegreesOfFreedom { get; init; }

    /// <summary>Degrees of freedom of the chance it is held against; absent for cuts.</summary>
    public int? ResidualDegreesOfFreedom { get; init; }
}

/// <summary>Two one-sided tests of a relative dose within a margin.</summary>
/// <param name="Probability">The larger of the two one-sided probabilities.</param>
/// <param name="Level">Level of each.</param>
/// <param name="Low">Lower limit of the interval that must lie within the margin (90 % at level 0.05).</param>
/// <param name="High">Its upper limit.</param>
/// <param name="IsEquivalent">True where it does.</param>
public sealed record EquivalenceTest(double Probability, double Level, double Low, double High, bool IsEquivalent) : Extensible;

/// <summary>A recommended setting of one batch and what becomes of it for another; one of the two settings changes.</summary>
public sealed record SettingChange : Extensible
{
    /// <summary>One of <see cref="Model.Goal"/>.</summary>
    public required string Goal { get; init; }

    /// <summary>Speed of the first's setting, mm/min.</summary>
    public required double FromSpeedMmPerMin { get; init; }

    /// <summary>Power of the first's setting, percent.</summary>
    public required double FromPowerPercent { get; init; }

    /// <summary>Speed for the later one, mm/min.</summary>
    public required double ToSpeedMmPerMin { get; init; }

    /// <summary>Power for the later one, percent.</summary>
    public required double ToPowerPercent { get; init; }

    /// <summary>95 % interval of the setting that changes: <c>speedMmPerMin</c> or <c>powerPercent</c>.</summary>
    public required Interval Interval { get; init; }
}

/// <summary>One cell of two cards of the same settings.</summary>
/// <param name="Row">Row, from 0.</param>
/// <param name="Column">Column, from 0.</param>
/// <param name="Mean">Mean of the two: darkness, or open share of a cut cell.</param>
/// <param name="Difference">Later less first.</param>
public sealed record CellDifference(int Row, int Column, double Mean, double Difference) : Extensible
{
    /// <summary>
    /// 95 % interval of the difference, for this cell alone; of a cut cell the limits that the stretches no photo shows leave it.
    /// </summary>
    public Interval? Interval { get; init; }

    /// <summary>Probability of such a difference by chance, adjusted for the number of cells (Holm); absent for cuts.</summary>
    public double? Probability { get; init; }

    /// <summary>True where that is below 5 %; absent for cuts.</summary>
    public bool? IsDifferent { get; init; }

    /// <summary>
    /// CIEDE2000 of the later cell against its own bare material, less that of the first; absent where either was not measured.
    /// </summary>
    public double? DeltaE2000Difference { get; init; }
}

/// <summary>Agreement of two cards' darkness, cell by cell (Bland and Altman): differences are later less first.</summary>
/// <param name="Cells">Cells compared, 3 or more.</param>
/// <param name="StandardDeviation">Standard deviation of the differences.</param>
/// <param name="Bias">Mean difference.</param>
/// <param name="LowerLimit">Lower limit of agreement.</param>
/// <param name="UpperLimit">Upper limit of agreement.</param>
public sealed record Agreement(int Cells, double StandardDeviation, Interval Bias, Interval LowerLimit, Interval UpperLimit) : Extensible;
