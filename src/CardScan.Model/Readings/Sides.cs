namespace CardScan.Model;

/// <summary>State of a side or of a whole cut cell.</summary>
public enum SideState
{
    /// <summary>Through: at least 98 % of its length is open.</summary>
    Open,

    /// <summary>Partly open.</summary>
    Partial,

    /// <summary>Nowhere open, where light could have been seen.</summary>
    Closed,

    /// <summary>Could not be judged from where the photo was taken.</summary>
    Unseen,
}

/// <summary>Whether a cut cell is through.</summary>
public enum Opening
{
    /// <summary>All four sides are open.</summary>
    Through,

    /// <summary>Some of it is open.</summary>
    Partial,

    /// <summary>Nothing is open.</summary>
    Closed,

    /// <summary>Could not be judged.</summary>
    Unseen,
}

/// <summary>The four sides of a cut cell.</summary>
/// <param name="Left">Left edge.</param>
/// <param name="Right">Right edge.</param>
/// <param name="Top">Top edge.</param>
/// <param name="Bottom">Bottom edge.</param>
public sealed record Sides(SideReading Left, SideReading Right, SideReading Top, SideReading Bottom) : Extensible;

/// <summary>What was measured of one side of a cut cell.</summary>
public sealed record SideReading : Extensible
{
    /// <summary>Open, partial, closed or unseen.</summary>
    public required SideState State { get; init; }

    /// <summary>Share of the judged length that is open, 0 to 1; absent where unseen. Tabs, left uncut on purpose, count nowhere.</summary>
    public double? OpenFraction { get; init; }

    /// <summary>Share of the side's length that could be judged, 0 to 1.</summary>
    public double? SeenFraction { get; init; }

    /// <summary>Width of the opening, mm.</summary>
    public double? KerfMm { get; init; }

    /// <summary>Longest stretch that still holds, mm; zero where none does.</summary>
    public double? LongestBridgeMm { get; init; }

    /// <summary>Middle of that stretch, mm from the left end of a top or bottom side, from the upper end of a left or right side.</summary>
    public double? LongestBridgeAtMm { get; init; }
}

/// <summary>Mean kerf of a cut card's open sides, by direction: a diode's beam is no circle.</summary>
/// <remarks>Half of it, per axis, is the compensation that a maker enters to get parts of true size.</remarks>
public sealed record CardKerf : Extensible
{
    /// <summary>
    /// Error that all widths of a photo share, mm (one standard error): how far the lamp is beyond the top of the scale is
    /// not seen, and moves every edge of light alike. It does not shrink with the number of sides. See docs/method/sides.md.
    /// </summary>
    public const double CommonErrorMm = 0.03;

    /// <summary>Kerf of lines that run down (left and right sides), measured across x, mm.</summary>
    public Measured? AcrossXMm { get; init; }

    /// <summary>Kerf of lines that run across (top and bottom sides), measured across y, mm.</summary>
    public Measured? AcrossYMm { get; init; }
}
