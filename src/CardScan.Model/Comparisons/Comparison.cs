namespace CardScan.Model;

/// <summary>What the readings of several cards say of each other (<c>comparison.json</c>): every later one against the first.</summary>
public sealed record Comparison : Extensible
{
    /// <summary>The format this version writes.</summary>
    public const string CurrentFormat = "cardscan-comparison/1";

    /// <summary>Format name and version.</summary>
    public required string Format { get; init; }

    /// <summary>What all the cards are.</summary>
    public required Process Process { get; init; }

    /// <summary>Difference of dose that counts as none, percent; greater than zero.</summary>
    public required double MarginPercent { get; init; }

    /// <summary>The readings, in the order they were given; the first is the reference.</summary>
    public required ValueList<ComparedBatch> Batches { get; init; }

    /// <summary>Every later reading against the first.</summary>
    public required ValueList<ComparedPair> Pairs { get; init; }

    /// <summary>The relative doses in the order given, with control limits; absent for fewer than three.</summary>
    public ControlChart? Chart { get; init; }

    /// <summary>How well the measuring repeats itself; absent where no repeats were given.</summary>
    public Repeatability? Repeatability { get; init; }
}

/// <summary>One of the compared readings.</summary>
/// <param name="Label">The name it goes by; each once.</param>
/// <param name="Number">Number of its card.</param>
/// <param name="Material">What was burned.</param>
/// <param name="Machine">What burned it.</param>
/// <param name="UsedCells">Cells that could be used.</param>
public sealed record ComparedBatch(string Label, int Number, Material Material, Machine Machine, int UsedCells) : Extensible
{
    /// <summary>SHA-256 of the plan's file, lower-case hexadecimal.</summary>
    public string? PlanSha256 { get; init; }

    /// <summary>When its last photo was taken, by the camera's own clock; absent where no photo says.</summary>
    public DateTime? Taken { get; init; }
}

/// <summary>A batch's cells and curve over dose, to be drawn.</summary>
/// <param name="Label">The batch.</param>
/// <param name="Abscissa">What x is, with its unit.</param>
/// <param name="Cells">Its cells.</param>
/// <param name="Points">Its curve, by increasing x.</param>
public sealed record ComparedCurve(string Label, string Abscissa, ValueList<ChartPoint> Cells, ValueList<ChartPoint> Points) : Extensible;

/// <summary>A point of a chart.</summary>
/// <param name="X">Abscissa.</param>
/// <param name="Y">Ordinate.</param>
public sealed record ChartPoint(double X, double Y) : Extensible;
