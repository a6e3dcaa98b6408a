using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;
using SkiaSharp;

namespace CardScan.Planning;

/// <summary>Prints a paper mask as PDF: the mask at true size on the first page, what to do with it on the second.</summary>
internal static class FramePdf
{
    /// <summary>PDF's unit: 72 a an inch.</summary>
    private const double PointsPerMm = 72 / 25.4;

    private const float HairMm = 0.15f;

    private const double TextMm = 4.2, SmallTextMm = 2.6, TextWidthMm = 160, TextLeftMm = 25;

    internal static byte[] Of(Plan plan)
    {
        FrameSheet frame = plan.Frame!;
        using MemoryStream stream = new();
        using (SKDocument document = SKDocument.CreatePdf(stream, new SKDocumentPdfMetadata { Title = TitleOf(plan), RasterDpi = 600 }))
        {
            Page(document, frame, canvas => Sheet(canvas, plan, frame));
            Page(document, frame, canvas => Instructions(canvas, plan));
            document.Close();
        }

        return stream.ToArray();
    }

    private static void Page(SKDocument document, FrameSheet frame, Action<SKCanvas> draw)
    {
        double width = frame.PaperWidthMm * PointsPerMm, height = frame.PaperHeightMm * PointsPerMm;
        SKCanvas canvas = document.BeginPage((float)width, (float)height);
        canvas.Scale((float)PointsPerMm);
        draw(canvas);
        document.EndPage();
    }

    private static void Sheet(SKCanvas canvas, Plan plan, FrameSheet frame)
    {
        canvas.Translate((float)frame.PaperXMm, (float)frame.PaperYMm);
        using SKPaint black = new() { Color = SKColors.Black };
        using SKPaint hair = new() { Color = SKColors.Black, IsStroke = true, StrokeWidth = HairMm };
        using SKPathEffect dashes = SKPathEffect.CreateDash([2, 1], 0);
        using SKPaint cut = new() { Color = SKColors.Black, IsStroke = true, StrokeWidth = HairMm, PathEffect = dashes };
        foreach (Marker marker in plan.Fiducials.Markers) DrawMarker(canvas, marker, plan.Fiducials.SideMm, black);
        foreach (GreyStep step in frame.GreySteps)
        {
            byte grey = FrameLayout.GreyOf(step.Density);
            using SKPaint fill = new() { Color = new(grey, grey, grey) };
            canvas.DrawRect(Rectangle(step.XMm, step.YMm, step.WidthMm, step.HeightMm), fill);
        }

        foreach (Ruler ruler in frame.Rulers) DrawRuler(canvas, ruler, hair);
        canvas.DrawRect(Rectangle(frame.Window.XMm, frame.Window.YMm, frame.Window.WidthMm, frame.Window.HeightMm), cut);
        canvas.DrawRect(Rectangle(0, 0, plan.Card.WidthMm, plan.Card.HeightMm), hair);

        // Inside the window nothing is measured: it is cut out.
        using SKFont font = SheetText.Font(SmallTextMm);
        string words = Voice.Say("planning.mask.window", ("number", plan.Number));
        canvas.DrawText(words, (float)frame.Window.XMm + 3, (float)frame.Window.YMm + 6, SKTextAlign.Left, font, black);
    }

    /// <summary>One path for a whole marker: separate shapes would show seams.</summary>
    private static void DrawMarker(SKCanvas canvas, Marker marker, double sideMm, SKPaint paint)
    {
        double module = sideMm / MarkerPattern.Modules;
        using SKPathBuilder builder = new();
        for (int row = 0; row < MarkerPattern.Modules; row++)
        {
            foreach ((int start, int length) in MarkerPattern.Runs(marker.Id, row))
                builder.AddRect(Rectangle(marker.XMm + start * module, marker.YMm + row * module, length * module, module));
        }

        using SKPath path = builder.Detach();
        canvas.DrawPath(path, paint);
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

    private static void Instructions(SKCanvas canvas, Plan plan)
    {
        using SKFont font = SheetText.Font(TextMm);
        using SKPaint black = new() { Color = SKColors.Black };
        double y = 30;
        foreach (string paragraph in Paragraphs(plan))
        {
            foreach (string line in SheetText.Wrapped(paragraph, font, TextWidthMm))
            {
                canvas.DrawText(line, (float)TextLeftMm, (float)y, SKTextAlign.Left, font, black);
                y += TextMm * 1.35;
            }

            y += TextMm * 0.6;
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

    private static SKRect Rectangle(double x, double y, double width, double height) =>
        SKRect.Create((float)x, (float)y, (float)width, (float)height);
}
