namespace CardScan.Scoring.Cutting;

/// <summary>What the model says of one cut cell: the probability that all four sides are through.</summary>
/// <param name="Cell">The cell.</param>
/// <param name="Probability">Best estimate.</param>
/// <remarks>
/// Sides are taken to be independent once the setting is given. Those of one cell in truth fail together, so the
/// probability that all four hold is rather higher: the error is on the careful side.
/// </remarks>
internal sealed record CutEstimate(CutCell Cell, double Probability)
{
    public double PowerPercent => Cell.Settings.PowerPercent;

    public double SpeedMmPerMin => Cell.Settings.SpeedMmPerMin;

    public static CutEstimate Of(CutModel model, CutCell cell) => new(cell, At(model, cell.LnPower, cell.LnSpeed));

    /// <summary>Probability that all four sides are through at some setting.</summary>
    public static double At(CutModel model, double lnPower, double lnSpeed) =>
        OfSides(model.Probability(lnPower, lnSpeed, Run.AlongX), model.Probability(lnPower, lnSpeed, Run.AlongY));

    /// <summary>Lower end of its 95 % interval: both ways a side runs at the lower end of theirs.</summary>
    public double Low(CutModel model) => OfSides(
        model.LowerProbability(Cell.LnPower, Cell.LnSpeed, Run.AlongX), model.LowerProbability(Cell.LnPower, Cell.LnSpeed, Run.AlongY));

    /// <summary>Upper end of its 95 % interval.</summary>
    public double High(CutModel model) => OfSides(
        model.UpperProbability(Cell.LnPower, Cell.LnSpeed, Run.AlongX), model.UpperProbability(Cell.LnPower, Cell.LnSpeed, Run.AlongY));

    private static double OfSides(double alongX, double alongY) => alongX * alongX * alongY * alongY;
}
