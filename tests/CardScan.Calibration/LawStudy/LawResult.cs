namespace CardScan.Calibration;

/// <summary>What one scored card of the law study came to.</summary>
/// <param name="Burned">The recommended setting; null where there is none.</param>
/// <param name="Unburned">The setting between tested cells that goes with it; null where none is given.</param>
/// <param name="GoodCells">Cells that were seen and truly reach the goal.</param>
/// <param name="Boundary">The stated boundary.</param>
internal sealed record LawResult(StatedSetting? Burned, StatedSetting? Unburned, int GoodCells, BoundaryCount Boundary)
{
    /// <summary>What the scoring broke down with; null where it did not.</summary>
    public string? Fault { get; init; }

    /// <summary>A card on which the scoring broke down.</summary>
    public static LawResult Broken(Exception fault) => new(null, null, 0, default) { Fault = Breakdown.InWords(fault) };

    /// <summary>So many good cells cannot be overlooked.</summary>
    private const int CannotBeOverlooked = 4;

    public bool HasGood => GoodCells >= CannotBeOverlooked;

    public bool IsSilent => HasGood && Burned is null;
}

/// <summary>
/// Points of a boundary: how many were stated, how many hold the truth, how many lie wholly below it and so promise too much.
/// </summary>
internal readonly record struct BoundaryCount(int Stated, int Right, int TooLow);
