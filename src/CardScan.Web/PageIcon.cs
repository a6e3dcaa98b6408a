namespace CardScan.Web;

/// <summary>A card with four corner marks and one cell burned: the icon of the pages.</summary>
internal static class PageIcon
{
    /// <summary>The drawing.</summary>
    public const string Svg =
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 32 32\">"
        + "<rect width=\"32\" height=\"32\" rx=\"6\" fill=\"#0b5f6b\"/>"
        + "<path d=\"M6 6h5v5H6zM21 6h5v5h-5zM6 21h5v5H6zM21 21h5v5h-5z\" fill=\"#fff\"/>"
        + "<path d=\"M12.5 12.5h7v7h-7z\" fill=\"#f0e442\"/></svg>";
}
