using SkiaSharp;

namespace CardScan.Reporting;

/// <summary>Draws marks onto pixels.</summary>
/// <param name="canvas">Where to draw.</param>
/// <param name="toPx">Turns a point of the drawing into px of the canvas, the corner of the top left pixel at (0, 0).</param>
/// <param name="scale">Px for each unit of the drawing.</param>
internal sealed class MarkPainter(SKCanvas canvas, Func<Point, SKPoint> toPx, double scale)
{
    public void Paint(IEnumerable<Mark> marks)
    {
        foreach (Mark mark in marks) Paint(mark);
    }

    private void Paint(Mark mark)
    {
        switch (mark)
        {
            case StrokeMark stroke: Paint(stroke); break;
            case DotMark dot: Paint(dot); break;
            case PlateMark plate: Paint(plate); break;
            case TextMark text: Paint(text); break;
            case BadgeMark badge: Paint(badge); break;
            default: throw new ArgumentOutOfRangeException(nameof(mark), mark, "An unknown mark.");
        }
    }

    private void Paint(StrokeMark stroke)
    {
        using SKPathBuilder builder = new();
        builder.MoveTo(toPx(stroke.Points[0]));
        foreach (Point point in stroke.Points.Skip(1)) builder.LineTo(toPx(point));
        if (stroke.IsClosed) builder.Close();
        using SKPath path = builder.Detach();
        using SKPaint paint = new() { IsAntialias = true, Style = SKPaintStyle.Stroke, StrokeJoin = SKStrokeJoin.Miter };

        paint.Color = Colour(InkColours.Casing(stroke.Ink)).WithAlpha(MarkSvg.CasingAlpha);
        paint.StrokeWidth = (float)(stroke.CasedWidth * scale);
        canvas.DrawPath(path, paint);

        paint.Color = Colour(InkColours.Line(stroke.Ink));
        paint.StrokeWidth = (float)(stroke.Width * scale);
        using SKPathEffect? dashes = stroke.Dash is double dash
            ? SKPathEffect.CreateDash([(float)(dash * scale), (float)(dash * scale)], 0)
            : null;
        paint.PathEffect = dashes;
        canvas.DrawPath(path, paint);
    }

    private void Paint(DotMark dot)
    {
        using SKPaint paint = new() { IsAntialias = true, Color = Colour(InkColours.Casing(dot.Ink)).WithAlpha(MarkSvg.CasingAlpha) };
        canvas.DrawCircle(toPx(dot.Center), (float)(MarkSvg.CasedRadius(dot.Radius) * scale), paint);
        paint.Color = Colour(InkColours.Line(dot.Ink));
        canvas.DrawCircle(toPx(dot.Center), (float)(dot.Radius * scale), paint);
    }

    private void Paint(PlateMark plate)
    {
        SKPoint corner = toPx(new(plate.X, plate.Y));
        SKSize size = new((float)(plate.Width * scale), (float)(plate.Height * scale));
        using SKPaint paint = new() { IsAntialias = true, Color = SKColors.White.WithAlpha(MarkSvg.PlateAlpha) };
        float round = (float)(MarkSvg.PlateCorner(plate) * scale);
        canvas.DrawRoundRect(SKRect.Create(corner, size), round, round, paint);
    }

    private void Paint(TextMark text)
    {
        using SKFont font = Typeface.Font(text.Size * scale);
        using SKPaint paint = new() { IsAntialias = true, Color = Colour(InkColours.TextColour) };
        SKPoint at = toPx(text.Baseline);
        canvas.DrawText(text.Text, at.X, at.Y, SKTextAlign.Center, font, paint);
    }

    private void Paint(BadgeMark badge)
    {
        using SKPaint paint = new() { IsAntialias = true, Color = Colour(InkColours.Casing(Ink.Recommended)) };
        Disc(badge, MarkSvg.BadgeRim(badge.Radius), paint);
        paint.Color = Colour(InkColours.Line(Ink.Recommended));
        Disc(badge, badge.Radius, paint);
        double size = MarkSvg.BadgeTextSize(badge);
        Paint(new TextMark(badge.Text, badge.Center + new Point(0, 0.36 * size), size, 0));
    }

    private void Disc(BadgeMark badge, double radius, SKPaint paint)
    {
        SKPoint center = toPx(badge.Center);
        float half = (float)((MarkSvg.BadgeHalfWidth(badge) + radius - badge.Radius) * scale);
        float round = (float)(radius * scale);
        canvas.DrawRoundRect(new SKRect(center.X - half, center.Y - round, center.X + half, center.Y + round), round, round, paint);
    }

    private static SKColor Colour(Rgb rgb) => new(rgb.R, rgb.G, rgb.B);
}
