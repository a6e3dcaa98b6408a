using CardScan.Language;
using CardScan.Model;
using SkiaSharp;

namespace CardScan.Planning;

/// <summary>Prints a grey strip as PDF: the strip at true size, and below it what to do with it.</summary>
internal static class StripPdf
{
    private const double TopMm = 20, TextTopMm = 80;

    internal static byte[] Of(Plan strip, Paper paper)
    {
        (double width, double height) = paper.SizeMm();
        string title = Voice.Say("planning.strip.title", ("number", strip.Number));
        return PrintedSheet.Pdf(title, width, height, canvas =>
        {
            PrintedSheet.DrawText(canvas, Paragraphs(title), TextTopMm);
            canvas.Translate((float)((width - strip.Card.WidthMm) / 2), (float)TopMm);
            Draw(canvas, strip, title);
        });
    }

    private static void Draw(SKCanvas canvas, Plan strip, string title)
    {
        using SKPaint black = new() { Color = SKColors.Black };
        using SKPaint hair = new() { Color = SKColors.Black, IsStroke = true, StrokeWidth = PrintedSheet.HairMm };
        canvas.DrawRect(PrintedSheet.Rectangle(0, 0, strip.Card.WidthMm, strip.Card.HeightMm), hair);
        PrintedSheet.DrawMarkers(canvas, strip.Fiducials);
        foreach (Cell cell in strip.Cells)
        {
            PrintedSheet.DrawGrey(canvas, PrintedSheet.Rectangle(cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm),
                strip.Columns.Values[cell.Column]);
        }

        // Between the upper markers, where a few letters do not disturb the light of the paper.
        using SKFont font = SheetText.Font(PrintedSheet.SmallTextMm);
        canvas.DrawText(title, (float)(strip.Card.WidthMm / 2), (float)(strip.Fiducials.Markers[0].YMm + PrintedSheet.SmallTextMm),
            SKTextAlign.Center, font, black);
    }

    private static IEnumerable<string> Paragraphs(string title) =>
    [
        title,
        Voice.Say("planning.strip.print"),
        Voice.Say("planning.strip.mount"),
        Voice.Say("planning.strip.lay"),
        Voice.Say("planning.strip.calibrate"),
        Voice.Say("planning.strip.age"),
    ];
}
