namespace CardScan.Model;

/// <summary>A photo of a card, turned upright and rectified: one millimetre of the card is the same number of pixels everywhere.</summary>
/// <param name="WidthPx">Width, px.</param>
/// <param name="HeightPx">Height, px.</param>
/// <param name="PxPerMm">Scale; the centre of the top left pixel lies at ((0.5 / scale) − margin) mm in the card frame.</param>
/// <param name="MarginMm">HostEnvironment shown on every side of the card, mm.</param>
/// <param name="Rgba">Row-major sRGB, 4 bytes a pixel (red, green, blue, alpha 255), top row first.</param>
public sealed record CardPicture(int WidthPx, int HeightPx, double PxPerMm, double MarginMm, ReadOnlyMemory<byte> Rgba)
{
    /// <summary>Where a point of the card lies in this picture, px.</summary>
    /// <param name="xMm">Card frame, mm.</param>
    /// <param name="yMm">Card frame, mm.</param>
    public PixelPoint At(double xMm, double yMm) => new((xMm + MarginMm) * PxPerMm - 0.5, (yMm + MarginMm) * PxPerMm - 0.5);
}
