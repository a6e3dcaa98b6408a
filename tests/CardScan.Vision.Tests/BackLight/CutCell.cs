using CardScan.Model;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>Uncut material left in a side.</summary>
/// <param name="AtMm">Its middle, from the side's left or upper end, mm.</param>
/// <param name="LengthMm">Its length, mm.</param>
internal sealed record Bridge(double AtMm, double LengthMm);

/// <summary>What the beam did along one side: a groove in the burned face, and an opening in the far one.</summary>
internal sealed record CutSide
{
    /// <summary>Open all along.</summary>
    public static CutSide Open { get; } = new();

    /// <summary>A groove that does not reach the far face.</summary>
    public static CutSide Closed { get; } = new() { ThroughMm = 0 };

    /// <summary>Width at the far face, mm; 0 where the beam did not get through.</summary>
    public double ThroughMm { get; init; } = 0.3;

    /// <summary>Width at the burned face, mm.</summary>
    public double FaceMm { get; init; } = 0.4;

    public IReadOnlyList<Bridge> Bridges { get; init; } = [];

    public bool IsOpenAt(double alongMm) => ThroughMm > 0 && !Bridges.Any(bridge => Math.Abs(alongMm - bridge.AtMm) < bridge.LengthMm / 2);
}

/// <summary>What the beam did to one cell.</summary>
/// <param name="Left">Left side.</param>
/// <param name="Right">Right side.</param>
/// <param name="Top">Top side.</param>
/// <param name="Bottom">Bottom side.</param>
internal sealed record CutCell(CutSide Left, CutSide Right, CutSide Top, CutSide Bottom)
{
    /// <summary>The piece has fallen out.</summary>
    public bool IsDropped { get; init; }

    public static CutCell Of(CutSide all) => new(all, all, all, all);

    /// <summary>True where the burned face is open, mm from the cell's top left corner.</summary>
    public bool IsOpenInFace(Cell cell, double x, double y) =>
        IsHole(cell, x, y, side => side.FaceMm) || Strips(cell, x, y).Any(strip => strip.Holds(strip.Side.FaceMm));

    /// <summary>True where the far face is open.</summary>
    public bool IsOpenFar(Cell cell, double x, double y) =>
        IsHole(cell, x, y, side => side.ThroughMm) || Strips(cell, x, y).Any(strip => strip.Holds(strip.Side.ThroughMm) && strip.Side.IsOpenAt(strip.Along));

    private bool IsHole(Cell cell, double x, double y, Func<CutSide, double> width) =>
        IsDropped && x > -width(Left) / 2 && x < cell.WidthMm + width(Right) / 2 && y > -width(Top) / 2 && y < cell.HeightMm + width(Bottom) / 2;

    private IEnumerable<Strip> Strips(Cell cell, double x, double y) =>
    [
        new(Left, x, y, cell.HeightMm),
        new(Right, x - cell.WidthMm, y, cell.HeightMm),
        new(Top, y, x, cell.WidthMm),
        new(Bottom, y - cell.HeightMm, x, cell.WidthMm),
    ];

    /// <summary>A point in the frame of a side: across its path, and along it.</summary>
    private readonly record struct Strip(CutSide Side, double Across, double Along, double LengthMm)
    {
        /// <summary>Within the strip that a beam of this width sweeps; it reaches half its width past the path's ends.</summary>
        public bool Holds(double widthMm) => Math.Abs(Across) < widthMm / 2 && Along > -widthMm / 2 && Along < LengthMm + widthMm / 2;
    }
}
