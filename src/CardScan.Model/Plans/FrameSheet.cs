namespace CardScan.Model;

/// <summary>A printed sheet with markers, grey steps and a scale, laid on a piece that is seen through its window.</summary>
/// <remarks>All positions are in the card frame, which is the sheet's own here: origin at its top left corner.</remarks>
public sealed record FrameSheet : Extensible
{
    /// <summary>Width of the paper, mm.</summary>
    public required double PaperWidthMm { get; init; }

    /// <summary>Height of the paper, mm.</summary>
    public required double PaperHeightMm { get; init; }

    /// <summary>Left edge of the sheet on the paper, mm.</summary>
    public required double PaperXMm { get; init; }

    /// <summary>Top edge of the sheet on the paper, mm.</summary>
    public required double PaperYMm { get; init; }

    /// <summary>What is cut out; the piece shows in it.</summary>
    public required Window Window { get; init; }

    /// <summary>Printed greys, each at two places far apart.</summary>
    public required ValueList<GreyStep> GreySteps { get; init; }

    /// <summary>Printed millimetre scales.</summary>
    public required ValueList<Ruler> Rulers { get; init; }
}

/// <summary>A rectangle that is cut out of a frame sheet.</summary>
public sealed record Window : Extensible
{
    /// <summary>Left edge, mm.</summary>
    public required double XMm { get; init; }

    /// <summary>Top edge, mm.</summary>
    public required double YMm { get; init; }

    /// <summary>Width, mm.</summary>
    public required double WidthMm { get; init; }

    /// <summary>Height, mm.</summary>
    public required double HeightMm { get; init; }
}

/// <summary>A printed rectangle of one grey.</summary>
public sealed record GreyStep : Extensible
{
    /// <summary>Left edge, mm.</summary>
    public required double XMm { get; init; }

    /// <summary>Top edge, mm.</summary>
    public required double YMm { get; init; }

    /// <summary>Width, mm.</summary>
    public required double WidthMm { get; init; }

    /// <summary>Height, mm.</summary>
    public required double HeightMm { get; init; }

    /// <summary>
    /// Nominal reflection density against the bare paper, 0 or more: what the file asks of the printer. Whoever measures
    /// the print writes the measured density here.
    /// </summary>
    public required double Density { get; init; }
}

/// <summary>A printed millimetre scale, along x or along y.</summary>
public sealed record Ruler : Extensible
{
    /// <summary>Where its first tick stands, mm.</summary>
    public required double FromXMm { get; init; }

    /// <summary>Where its first tick stands, mm.</summary>
    public required double FromYMm { get; init; }

    /// <summary>Where its last tick stands, mm.</summary>
    public required double ToXMm { get; init; }

    /// <summary>Where its last tick stands, mm.</summary>
    public required double ToYMm { get; init; }

    /// <summary>From tick to tick, mm.</summary>
    public required double StepMm { get; init; }
}
