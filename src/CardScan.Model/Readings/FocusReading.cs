namespace CardScan.Model;

/// <summary>Widths of the lines of a focus ladder's cell; a direction whose lines were not measured is absent.</summary>
public sealed record LineWidths : Extensible
{
    /// <summary>Mean width of the lines that run down, measured across x, mm.</summary>
    public Measured? AcrossXMm { get; init; }

    /// <summary>Mean width of the lines that run across, measured across y, mm.</summary>
    public Measured? AcrossYMm { get; init; }
}

/// <summary>Where the beam is in focus, as the line widths of a ladder tell; method in docs/method/focus.md.</summary>
public sealed record FocusResult : Extensible
{
    /// <summary>
    /// The focus offset to set, mm: midway between the best of the two axes; that of the one axis where only one is known.
    /// Absent where none is.
    /// </summary>
    public double? OffsetMm { get; init; }

    /// <summary>From the widths across x; absent where too few lines could be measured.</summary>
    public FocusAxis? AcrossX { get; init; }

    /// <summary>From the widths across y; absent where too few lines could be measured.</summary>
    public FocusAxis? AcrossY { get; init; }
}

/// <summary>The beam along one axis of the card.</summary>
public sealed record FocusAxis : Extensible
{
    /// <summary>How many cells it is told from.</summary>
    public required int Cells { get; init; }

    /// <summary>
    /// The focus offset at which the beam is narrowest, mm, with its 95 % interval; absent where the ladder does not
    /// enclose it.
    /// </summary>
    public Interval? BestOffset { get; init; }

    /// <summary>
    /// Width of the beam in its focus, between the points of 1/e² of its peak, mm, with its 95 % interval; absent where the
    /// ladder does not tell it.
    /// </summary>
    public Interval? Beam { get; init; }

    /// <summary>Distance from the focus at which the beam is √2 times as wide, mm; absent where the focus is.</summary>
    public double? RayleighMm { get; init; }

    /// <summary>
    /// Fitted line widths over the focus offset, to be drawn: of the lowest, a middle and the highest line energy of the
    /// card.
    /// </summary>
    public ValueList<FocusCurve> Curves { get; init => field = value ?? []; } = [];
}

/// <summary>Fitted widths at one line energy.</summary>
/// <param name="JoulesPerMm">The line energy, J/mm.</param>
/// <param name="Points">Width, mm, over the focus offset, mm, by increasing offset.</param>
public sealed record FocusCurve(double JoulesPerMm, ValueList<CurvePoint> Points) : Extensible;
