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
        Probability = model.Through(cell.Point);
        _low = new(() => model.ThroughLimit(cell.Point, isUpper: false));
        _high = new(() => model.ThroughLimit(cell.Point, isUpper: true));
    }

    public CutCell Cell { get; }

    /// <summary>Best estimate.</summary>
    public double Probability { get; }

    /// <summary>Lower end of the 95 % interval; worked out when asked for.</summary>
    public double Low => _low.Value;

    /// <summary>Upper end of the 95 % interval; worked out when asked for.</summary>
    public double High => _high.Value;

    /// <summary>What is stated: the probability averaged over what is not known of it, and the limits.</summary>
    public Estimate Through => Estimate.OfProbability(Probability, Low, High);

    public double PowerPercent => Cell.Settings.PowerPercent;

    public double SpeedMmPerMin => Cell.Settings.SpeedMmPerMin;
}
