namespace CardScan.Model;

/// <summary>Paper that sheets are printed on.</summary>
public enum Paper
{
    /// <summary>210 × 297 mm (ISO 216).</summary>
    A4,

    /// <summary>8.5 × 11 inches.</summary>
    Letter,
}

/// <summary>Sizes of paper.</summary>
public static class PaperSize
{
    /// <summary>Width and height, mm.</summary>
    /// <param name="paper">The paper.</param>
    public static (double WidthMm, double HeightMm) SizeMm(this Paper paper) => paper == Paper.A4 ? (210, 297) : (215.9, 279.4);
}
