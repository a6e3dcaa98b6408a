using CardScan.Model;
using SkiaSharp;

namespace CardScan.Reporting;

/// <summary>The writing above and below the annotated picture, set to the sheet's width.</summary>
/// <param name="widthPx">Width of the sheet, px.</param>
/// <param name="plan">The plan, for the heading.</param>
/// <param name="judgement">Whether the reading can be used, for the heading: the picture is passed on without its page.</param>
/// <param name="key">The key.</param>
internal sealed class SheetType(int widthPx, Plan plan, Judgement judgement, ValueList<KeyEntry> key)
{
    private readonly double _sizePx = Math.Max(15, widthPx / 64.0);

    private double MarginPx => 1.2 * _sizePx;

    private double LinePx => 1.5 * _sizePx;

    /// <summary>Height of the heading, px.</summary>
    public int HeadingPx => (int)Math.Ceiling(2 * MarginPx + 1.9 * _sizePx + 1.0 * _sizePx + LinePx * JudgementLines.Count);

    /// <summary>Height of the key, px.</summary>
    public int KeyPx => (int)Math.Ceiling(2 * MarginPx + LinePx * (key.Sum(entry => Wrapped(entry).Count) + CautionLines.Count));

    public void DrawHeading(SKCanvas canvas)
    {
        string title = Typeface.CanWrite(plan.Title) ? ShownPlan.Title(plan) : ShownPlan.Number(plan);
        Write(canvas, Shortened(title, 1.7 * _sizePx), MarginPx, MarginPx + 1.5 * _sizePx, 1.7 * _sizePx);
        string subtitle = ShownPlan.Subtitle(plan);
        if (Typeface.CanWrite(subtitle)) Write(canvas, Shortened(subtitle, _sizePx), MarginPx, MarginPx + 3.2 * _sizePx, _sizePx);
        foreach ((int line, string words) in JudgementLines.Index())
            Write(canvas, words, MarginPx, MarginPx + 3.2 * _sizePx + (line + 1) * LinePx, _sizePx);
    }

    public void DrawKey(SKCanvas canvas, int topPx)
    {
        double baseline = topPx + MarginPx + _sizePx;
        foreach (KeyEntry entry in key)
        {
            SKPoint icon = new((float)MarginPx, (float)(baseline - 0.85 * _sizePx));
            SKPoint InIcon(Point point) => new(icon.X + (float)(point.X * _sizePx), icon.Y + (float)(point.Y * _sizePx));
            new MarkPainter(canvas, InIcon, _sizePx).Paint(entry.Icon);
            foreach (string line in Wrapped(entry)) Advance(line, entry.Icon.Count > 0 ? MarginPx + IconPx : MarginPx);
        }

        foreach (string line in CautionLines) Advance(line, MarginPx);

        void Advance(string line, double x)
        {
            Write(canvas, line, x, baseline, _sizePx);
            baseline += LinePx;
        }
    }

    private double IconPx => 2.6 * _sizePx;

    private List<string> JudgementLines => Wrap(Typeface.Writable(judgement.Words), widthPx - 2 * MarginPx);

    private List<string> CautionLines => Wrap(Voice.Say("picture.caution"), widthPx - 2 * MarginPx);

    private List<string> Wrapped(KeyEntry entry) =>
        Wrap(Typeface.Writable(entry.Words), widthPx - 2 * MarginPx - (entry.Icon.Count > 0 ? IconPx : 0));

    private List<string> Wrap(string text, double roomPx) => Typeface.Lines(text, _sizePx, roomPx);

    private string Shortened(string text, double sizePx)
    {
        double room = widthPx - 2 * MarginPx;
        using SKFont font = Typeface.Font(sizePx);
        int whole = font.BreakText(text, (float)room);
        if (whole >= text.Length) return text;
        int kept = font.BreakText(text, (float)(room - font.MeasureText("…")));
        return text[..kept].TrimEnd() + "…";
    }

    private static void Write(SKCanvas canvas, string text, double x, double baseline, double sizePx)
    {
        using SKFont font = Typeface.Font(sizePx);
        using SKPaint paint = new() { IsAntialias = true, Color = SKColors.Black };
        canvas.DrawText(text, (float)x, (float)baseline, SKTextAlign.Left, font, paint);
    }
}
