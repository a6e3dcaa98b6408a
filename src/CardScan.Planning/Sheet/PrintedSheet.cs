using CardScan.Model;
using SkiaSharp;

namespace CardScan.Planning;

/// <summary>What paper masks and grey strips are printed with: pages in millimetres, markers, and what to do as paragraphs.</summary>
internal static class PrintedSheet
{
    /// <summary>PDF's unit: 72 a an inch.</summary>
    private const double PointsPerMm = 72 / 25.4;

    private const double TextMm = 4.2, TextWidthMm = 160, TextLeftMm = 25;

    internal const float HairMm = 0.15f;

    /// <summary>Size of what is written beside the things that are measured, mm.</summary>
    internal const double SmallTextMm = 2.6;

    /// <summary>A document.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="width">Of each page, mm.</param>
    /// <param name="height">Of each page, mm.</param>
    /// <param name="pages">Draw the pages, in mm.</param>
    internal static byte[] Pdf(string title, double width, double height, params IEnumerable<Action<SKCanvas>> pages)
    {
        using MemoryStream stream = new();
        using (SKDocument document = SKDocument.CreatePdf(stream, new SKDocumentPdfMetadata { Title = title, RasterDpi = 600 }))
        {
            foreach (Action<SKCanvas> draw in pages)
            {
                SKCanvas canvas = document.BeginPage((float)(width * PointsPerMm), (float)(height * PointsPerMm));
                canvas.Scale((float)PointsPerMm);
                draw(canvas);
                document.EndPage();
            }

            document.Close();
        }

        return stream.ToArray();
    }

    /// <summary>A grey as it is asked of the printer.</summary>
    internal static void DrawGrey(SKCanvas canvas, SKRect place, double density)
    {
        byte grey = FrameLayout.GreyOf(density);
        using SKPaint fill = new() { Color = new(grey, grey, grey) };
        canvas.DrawRect(place, fill);
    }

    internal static void DrawMarkers(SKCanvas canvas, Fiducials fiducials)
    {
        using SKPaint black = new() { Color = SKColors.Black };
        foreach (Marker marker in fiducials.Markers) DrawMarker(canvas, marker, fiducials.SideMm, black);
    }

    /// <summary>Paragraphs from a height of the page down.</summary>
    internal static void DrawText(SKCanvas canvas, IEnumerable<string> paragraphs, double y)
    {
        using SKFont font = SheetText.Font(TextMm);
        using SKPaint black = new() { Color = SKColors.Black };
        foreach (string paragraph in paragraphs)
        {
            foreach (string line in SheetText.Wrapped(paragraph, font, TextWidthMm))
            {
                canvas.DrawText(line, (float)TextLeftMm, (float)y, SKTextAlign.Left, font, black);
                y += TextMm * 1.35;
            }

            y += TextMm * 0.6;
        }
    }

    internal static SKRect Rectangle(double x, double y, double width, double height) =>
        SKRect.Create((float)x, (float)y, (float)width, (float)height);

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
}
