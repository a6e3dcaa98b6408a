using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;
using SkiaSharp;

namespace CardScan.Planning;

/// <summary>Prints a paper mask as PDF: the mask at true size on the first page, what to do with it on the second.</summary>
internal static class FramePdf
{
    /// <summary>Of the second page, mm from its top.</summary>
    private const double FirstLineMm = 30;

    internal static byte[] Of(Plan plan)
    {
        FrameSheet frame = plan.Frame!;
        return PrintedSheet.Pdf(TitleOf(plan), frame.PaperWidthMm, frame.PaperHeightMm,
            canvas => Sheet(canvas, plan, frame), canvas => PrintedSheet.DrawText(canvas, Paragraphs(plan), FirstLineMm));
    }

    private static void Sheet(SKCanvas canvas, Plan plan, FrameSheet frame)
    {
        canvas.Translate((float)frame.PaperXMm, (float)frame.PaperYMm);
        using SKPaint black = new() { Color = SKColors.Black };
        using SKPaint hair = new() { Color = SKColors.Black, IsStroke = true, StrokeWidth = PrintedSheet.HairMm };
        using SKPathEffect dashes = SKPathEffect.CreateDash([2, 1], 0);
        using SKPaint cut = new() { Color = SKColors.Black, IsStroke = true, StrokeWidth = PrintedSheet.HairMm, PathEffect = dashes };
        PrintedSheet.DrawMarkers(canvas, plan.Fiducials);
        foreach (GreyStep step in frame.GreySteps)
            PrintedSheet.DrawGrey(canvas, PrintedSheet.Rectangle(step.XMm, step.YMm, step.WidthMm, step.HeightMm), step.Density);
        foreach (Ruler ruler in frame.Rulers) DrawRuler(canvas, ruler, hair);
        canvas.DrawRect(PrintedSheet.Rectangle(frame.Window.XMm, frame.Window.YMm, frame.Window.WidthMm, frame.Window.HeightMm), cut);
        canvas.DrawRect(PrintedSheet.Rectangle(0, 0, plan.Card.WidthMm, plan.Card.HeightMm), hair);

        // Inside the window nothing is measured: it is cut out.
        using SKFont font = SheetText.Font(PrintedSheet.SmallTextMm);
        string words = Voice.Say("planning.mask.window", ("number", plan.Number));
        canvas.DrawText(words, (float)frame.Window.XMm + 3, (float)frame.Window.YMm + 6, SKTextAlign.Left, font, black);
    }

    /// <summary>Ticks on the side of the window, each fifth and tenth longer.</summary>
    private static void DrawRuler(SKCanvas canvas, Ruler ruler, SKPaint hair)
    {
        double length = Math.Abs(ruler.ToXMm - ruler.FromXMm) + Math.Abs(ruler.ToYMm - ruler.FromYMm);
        double stepX = (ruler.ToXMm - ruler.FromXMm) / length, stepY = (ruler.ToYMm - ruler.FromYMm) / length;
        for (int i = 0; i <= (int)Math.Round(length / ruler.StepMm); i++)
        {
            double tick = i % 10 == 0 ? 3 : i % 5 == 0 ? 2.2 : 1.5;
            double x = ruler.FromXMm + stepX * i * ruler.StepMm, y = ruler.FromYMm + stepY * i * ruler.StepMm;
            canvas.DrawLine((float)x, (float)y, (float)(x + stepY * tick), (float)(y + stepX * tick), hair);
        }
    }

    /// <summary>What to do with the mask, a paragraph each.</summary>
    private static IEnumerable<string> Paragraphs(Plan plan)
    {
        (Window window, Ruler left) = (plan.Frame!.Window, plan.Frame.Rulers[1]);
        return
        [
            TitleOf(plan),
            Voice.Say("planning.mask.print"),
            Voice.Say("planning.mask.check", ("scale", Mm(left.ToYMm - left.FromYMm))),
            Voice.Say("planning.mask.cut"),
            Voice.Say("planning.mask.burn", ("width", Mm(window.WidthMm)), ("height", Mm(window.HeightMm))),
            Voice.Say("planning.mask.lay"),
            Voice.Say("planning.mask.photograph"),
            Voice.Say("planning.mask.greys"),
            .. Cautions.For(plan.Machine),
        ];
    }

    private static string TitleOf(Plan plan) => Voice.Say("planning.mask.title", ("number", plan.Number));
}
