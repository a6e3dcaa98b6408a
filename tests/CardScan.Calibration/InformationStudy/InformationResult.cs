namespace CardScan.Calibration;

/// <summary>
/// What the next card would tell by the law itself. Half widths of the limit in percent; absent where the law says nothing of them.
/// </summary>
internal sealed record InformationResult
{
    /// <summary>The first note of the plan, or that it was refused.</summary>
    public required string Code { get; init; }

    /// <summary>The answer lies inside the planned card; of plans that go further on.</summary>
    public bool HoldsTheAnswer { get; init; }

    public double? Now { get; init; }

    /// <summary>With the first card burned again.</summary>
    public double? Again { get; init; }

    /// <summary>With the planned card.</summary>
    public double? Planned { get; init; }

    /// <summary>With the best card that there could be.</summary>
    public double? Best { get; init; }
}
