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

    public double WidthMm(bool isFar) => isFar ? ThroughMm : FaceMm;

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
    public bool IsOpenInFace(Cell cell, double x, double y) => IsOpen(cell, x, y, isFar: false);

    /// <summary>True where the far face is open.</summary>
    public bool IsOpenFar(Cell cell, double x, double y) => IsOpen(cell, x, y, isFar: true);

    private bool IsOpen(Cell cell, double x, double y, bool isFar) =>
        IsHole(cell, x, y, isFar)
        || IsInStrip(Left, x, y, cell.HeightMm, isFar)
        || IsInStrip(Right, x - cell.WidthMm, y, cell.HeightMm, isFar)
        || IsInStrip(Top, y, x, cell.WidthMm, isFar)
        || IsInStrip(Bottom, y - cell.HeightMm, x, cell.WidthMm, isFar);

    private bool IsHole(Cell cell, double x, double y, bool isFar) =>
        IsDropped
        && x > -Left.WidthMm(isFar) / 2 && x < cell.WidthMm + Right.WidthMm(isFar) / 2
        && y > -Top.WidthMm(isFar) / 2 && y < cell.HeightMm + Bottom.WidthMm(isFar) / 2;

    /// <summary>Whether a beam of the side's width sweeps over a point; it reaches half its width past the path's ends.</summary>
    private static bool IsInStrip(CutSide side, double across, double along, double lengthMm, bool isFar)
    {
        double half = side.WidthMm(isFar) / 2;
        return Math.Abs(across) < half && along > -half && along < lengthMm + half && (!isFar || side.IsOpenAt(along));
    }
}
