namespace CardScan.Model;

/// <summary>Paper that a frame sheet is printed on.</summary>
public enum Paper
{
    /// <summary>210 × 297 mm (ISO 216).</summary>
    A4,

    /// <summary>8.5 × 11 inches.</summary>
    Letter,
}
