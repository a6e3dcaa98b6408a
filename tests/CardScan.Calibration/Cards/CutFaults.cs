namespace CardScan.Calibration;

/// <summary>What holds a cut whatever its dose, and what a photo tells wrongly.</summary>
internal sealed record CutFaults
{
    public static CutFaults None { get; } = new();

    /// <summary>Probability that a side is held: a bridge, a gluey spot.</summary>
    public double SideHeld { get; init; }

    /// <summary>Probability that a whole cell is held: a knot.</summary>
    public double CellHeld { get; init; }

    /// <summary>Share of the cells that lie in patches of two or three cells a side, wholly held: glue, large knots.</summary>
    public double PatchShare { get; init; }

    /// <summary>Probability that a side is read the wrong way round. The cut itself is as it is.</summary>
    public double Misread { get; init; }

    /// <summary>Probability that nothing of this holds a cell.</summary>
    public double Free => Math.Pow(1 - SideHeld, 4) * (1 - CellHeld) * (1 - PatchShare);
}
