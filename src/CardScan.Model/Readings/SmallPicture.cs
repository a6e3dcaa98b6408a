namespace CardScan.Model;

/// <summary>A photo made small enough to be shown in a list.</summary>
/// <param name="Jpeg">A JPEG file, upright, 40 KB at most.</param>
/// <param name="WidthPx">Its width, px.</param>
/// <param name="HeightPx">Its height, px.</param>
public sealed record SmallPicture(ReadOnlyMemory<byte> Jpeg, int WidthPx, int HeightPx);
