namespace CardScan.Scoring.Cutting;

/// <summary>What the model says of one cut cell: the probability that all four sides are through.</summary>
/// <remarks>
/// Sides are taken to be independent once the setting is given. Those of one cell in truth fail together, so the
/// probability that all four are through is rather higher: the error is on the careful side.
/// </remarks>
internal sealed class CutEstimate
{
    private readonly Lazy<double> _low;
    private readonly Lazy<double> _high;

    public CutEstimate(CutModel model, CutCell cell)
    {
        Cell = cell;
        Probability = At(model, cell.LnPower, cell.LnSpeed);
        _low = new(() => OfSides(run => model.LowerProbability(cell.LnPower, cell.LnSpeed, run)));
        _high = new(() => OfSides(run => model.UpperProbability(cell.LnPower, cell.LnSpeed, run)));
    }

    public CutCell Cell { get; }

    /// <summary>Best estimate.</summary>
    public double Probability { get; }

    /// <summary>Lower end of the 95 % interval: both ways a side runs at the lower end of theirs. Costs many fits.</summary>
    public double Low => _low.Value;

    /// <summary>Upper end of the 95 % interval. Costs many fits.</summary>
    public double High => _high.Value;

    public double PowerPercent => Cell.Settings.PowerPercent;

    public double SpeedMmPerMin => Cell.Settings.SpeedMmPerMin;

    /// <summary>Probability that all four sides are through at some setting.</summary>
    public static double At(CutModel model, double lnPower, double lnSpeed) => OfSides(run => model.Probability(lnPower, lnSpeed, run));

    /// <summary>True where this setting delivers no less than the other at every point of the path: no faster, no weaker.</summary>
    public bool IsNoWeakerThan(CutEstimate other) => Cell.LnPower >= other.Cell.LnPower && Cell.LnSpeed <= other.Cell.LnSpeed;

    private static double OfSides(Func<Run, double> side) => Math.Pow(side(Run.AlongX) * side(Run.AlongY), 2);
}
