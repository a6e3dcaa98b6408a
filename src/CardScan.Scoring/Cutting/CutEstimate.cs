namespace CardScan.Scoring.Cutting;

/// <summary>What the card says of one of its cells: the probability that all four sides are through on a new piece.</summary>
/// <remarks>
/// Sides are taken to be independent once the setting is given. Those of one cell in truth fail together, so the
/// probability that all four are through is rather higher: the error is on the careful side.
/// </remarks>
internal sealed class CutEstimate
{
    private static readonly Estimate Certain = new(1, 1, 1);

    private readonly Lazy<double> _low;
    private readonly Lazy<Estimate> _fast;
    private readonly Lazy<Estimate> _slow;
    private readonly CutLaw _law;

    public CutEstimate(CutLaw law, CutCell cell)
    {
        (_law, Cell) = (law, cell);
        Probability = law.Fast.Through(cell.Point) * (law.Slow?.StillThrough(cell.Point) ?? 1);
        _low = new(() => law.Fast.ThroughLimit(cell.Point, isUpper: false));
        _fast =
            new(() => Estimate.OfProbability(law.Fast.Through(cell.Point), _low.Value, law.Fast.ThroughLimit(cell.Point, isUpper: true)));
        _slow = new(() => law.Slow?.Expected(cell.Point) ?? Certain);
    }

    public CutCell Cell { get; }

    /// <summary>Best estimate by energy alone.</summary>
    public double Probability { get; }

    /// <summary>Lower end of the 95 % interval of having enough energy, and not too much of it: that of the nearer end.</summary>
    public double Low => _law.Slow is null ? _low.Value : Math.Min(_low.Value, _slow.Value.Low);

    /// <summary>By energy alone, averaged over what is not known: enough of it, and not too much.</summary>
    public Estimate Energy => _law.Slow is null ? _fast.Value : _fast.Value.And(_slow.Value);

    /// <summary>What is stated: all four sides free, whatever may hold them.</summary>
    public Estimate Through => Energy.And(_law.OtherwiseAt(Cell));

    public double PowerPercent => Cell.Settings.PowerPercent;

    public double SpeedMmPerMin => Cell.Settings.SpeedMmPerMin;
}
