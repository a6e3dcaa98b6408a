namespace CardScan.Model;

/// <summary>The model that was fitted to the card.</summary>
public sealed record FittedModel : Extensible
{
    /// <summary>Name of the model, explained in docs/method.</summary>
    public required string Name { get; init; }

    /// <summary>Parameters with standard errors.</summary>
    public ValueMap<Measured> Parameters { get; init => field = value ?? ValueMap<Measured>.Empty; } = ValueMap<Measured>.Empty;

    /// <summary>Figures that tell how well it fits.</summary>
    public ValueMap<double> Diagnostics { get; init => field = value ?? ValueMap<double>.Empty; } = ValueMap<double>.Empty;

    /// <summary>The fitted curve with its 95 % band, to be drawn; absent where the model is no curve.</summary>
    public FittedCurve? Curve { get; init; }
}

/// <summary>A fitted curve, as points to be drawn.</summary>
/// <param name="Abscissa">What x is, with its unit, for the axis of a chart.</param>
/// <param name="Cells">Where each used cell lies on the curve's abscissa.</param>
/// <param name="Points">The curve, by increasing x.</param>
public sealed record FittedCurve(string Abscissa, ValueList<CurveCell> Cells, ValueList<CurvePoint> Points) : Extensible;

/// <summary>A cell's place on the curve's abscissa.</summary>
/// <param name="Row">Row of the grid.</param>
/// <param name="Column">Column of the grid.</param>
/// <param name="X">Abscissa.</param>
public sealed record CurveCell(int Row, int Column, double X) : Extensible;

/// <summary>A point of a fitted curve.</summary>
/// <param name="X">Abscissa.</param>
/// <param name="Y">Fitted value: mark strength, or L* of tones.</param>
/// <param name="Low">Lower limit of the 95 % band.</param>
/// <param name="High">Upper limit of the 95 % band.</param>
public sealed record CurvePoint(double X, double Y, double Low, double High) : Extensible;
