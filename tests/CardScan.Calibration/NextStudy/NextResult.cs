namespace CardScan.Calibration;

/// <summary>What is known of one limit after the first card, after it and the planned one, and after it burned twice.</summary>
/// <param name="AnnouncedPercent">Half width that was announced for the first and the planned card together, percent.</param>
/// <param name="Before">After the first card.</param>
/// <param name="Planned">After the planned card.</param>
/// <param name="Again">After the first card burned again.</param>
internal sealed record NextResult(double AnnouncedPercent, KnownLimit? Before, KnownLimit? Planned, KnownLimit? Again)
{
    /// <summary>True where the limit is stated after all three, so that they can be held against each other.</summary>
    public bool IsComplete => Before is not null && Planned is not null && Again is not null;
}
