using CardScan.Model;
using SkiaSharp;

namespace CardScan.Reporting;

/// <summary>The annotated picture: heading, photo with marks, key.</summary>
internal static class AnnotatedSheet
{
    /// <summary>Smaller type is not sharp, px.</summary>
    private const double SmallestTypePx = 14;

    /// <summary>A photo is not enlarged past this, px: about 160 MB while drawing.</summary>
    private const double MostPx = 40e6;

    public static byte[] Png(Reading reading, CardPicture picture)
    {
        CardMarks marks = CardMarks.Of(reading);
        int enlargement = Enlargement(picture, marks.Labels.SizeMm);
        (int width, int height) = (picture.WidthPx * enlargement, picture.HeightPx * enlargement);
        SheetType type = new(width, reading.Plan, Judgement.Of(reading), KeyEntry.Of(reading, marks.Labels));

        SKImageInfo info = new(width, type.HeadingPx + height + type.KeyPx, SKColorType.Rgba8888, SKAlphaType.Opaque);
        using SKSurface surface = SKSurface.Create(info)
            ?? throw new InvalidOperationException($"No memory for {info.Width} × {info.Height} px.");
        SKCanvas canvas = surface.Canvas;
        canvas.Clear(SKColors.White);
        Pixels.Draw(canvas, picture, SKRect.Create(0, type.HeadingPx, width, height));
        new MarkPainter(canvas, OnSheet, picture.PxPerMm * enlargement).Paint(marks.Marks);
        type.DrawHeading(canvas);
        type.DrawKey(canvas, type.HeadingPx + height);

        using SKImage sheet = surface.Snapshot();
        using SKData file = sheet.Encode(SKEncodedImageFormat.Png, 100)
            ?? throw new InvalidOperationException("The picture cannot be encoded.");
        return file.ToArray();

        SKPoint OnSheet(Point mm)
        {
            // At() counts from the centre of the top left pixel, the canvas from its corner.
            PixelPoint at = picture.At(mm.X, mm.Y);
            return new((float)((at.X + 0.5) * enlargement), (float)((at.Y + 0.5) * enlargement + type.HeadingPx));
        }
    }

    /// <summary>The whole factor that makes the labels sharp, as far as memory allows.</summary>
    internal static int Enlargement(CardPicture picture, double labelMm)
    {
        int wanted = (int)Math.Ceiling(SmallestTypePx / (labelMm * picture.PxPerMm));
        int allowed = (int)Math.Sqrt(MostPx / ((double)picture.WidthPx * picture.HeightPx));
        return Math.Clamp(wanted, 1, Math.Max(1, allowed));
    }
}
