using System.Diagnostics;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using OpenCvSharp;
using OpenCvSharp.Aruco;
using SkiaSharp;
using Svg.Skia;

namespace CardScan.Workflow.Tests;

/// <summary>The drawing of a plan, painted by programs that know nothing of plans; with bare material around it, as in a photo.</summary>
internal static class RenderedCard
{
    internal const int MarginPx = 150;

    /// <summary>The drawing with every colour as black, so that a picture shows by its greys how much of a pixel is burned.</summary>
    internal static string Black(string svg) => Regex.Replace(svg, "\"#[0-9A-F]{6}\"", "\"#000000\"");

    /// <summary>Painted by a library; the caller disposes.</summary>
    /// <param name="svg">The drawing.</param>
    /// <param name="pxPerMm">Scale; the drawing's own is 96 px an inch.</param>
    /// <param name="burned">Grey of what is burned.</param>
    /// <param name="bare">Grey of the material.</param>
    internal static Mat ByLibrary(string svg, double pxPerMm, byte burned, byte bare) => Toned(Png(svg, pxPerMm), burned, bare);

    /// <summary>As it is, by the same library; the caller disposes.</summary>
    internal static Mat InColour(string svg, double pxPerMm) => Cv2.ImDecode(Png(svg, pxPerMm), ImreadModes.Color);

    private static byte[] Png(string svg, double pxPerMm)
    {
        using SKSvg drawing = new();
        using SKPicture picture = drawing.FromSvg(svg)!;
        SKRect box = picture.CullRect;
        // The library rounds the drawing's size to whole pixels, 96 an inch, and centres what the viewBox shows in them.
        double[] view = [.. ((string)XElement.Parse(svg).Attribute("viewBox")!).Split(' ').Select(double.Parse)];
        double pxPerUnit = Math.Min(box.Width / view[2], box.Height / view[3]);
        Assert.Equal(96 / 25.4, pxPerUnit, 0.01);
        using SKBitmap bitmap = new((int)Math.Round(view[2] * pxPerMm) + 2 * MarginPx, (int)Math.Round(view[3] * pxPerMm) + 2 * MarginPx,
            SKColorType.Bgra8888, SKAlphaType.Opaque);
        using SKCanvas canvas = new(bitmap);
        canvas.Clear(SKColors.White);
        canvas.Translate(MarginPx, MarginPx);
        canvas.Scale((float)(pxPerMm / pxPerUnit));
        canvas.Translate((float)((view[2] * pxPerUnit - box.Width) / 2), (float)((view[3] * pxPerUnit - box.Height) / 2));
        canvas.DrawPicture(picture);
        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    /// <summary>Painted by a browser, the drawing opened as it is; the caller disposes.</summary>
    /// <param name="svg">The drawing.</param>
    /// <param name="zoom">Device pixels a CSS pixel; 96 CSS pixels are an inch.</param>
    internal static Mat ByBrowser(string svg, double zoom) => ByProgram(Installed.Browser!, folder =>
    {
        File.WriteAllText(Path.Combine(folder, "card.svg"), svg);
        return [
            "--headless", "--no-sandbox", "--disable-gpu", "--disable-background-networking", "--hide-scrollbars",
            $"--user-data-dir={folder}/profile",
            $"--force-device-scale-factor={zoom}", "--window-size=700,700", $"--screenshot={folder}/page.png", $"file://{folder}/card.svg"];
    });

    /// <summary>The first page of a PDF, painted by Poppler; the caller disposes.</summary>
    internal static Mat FirstPage(byte[] pdf, int dotsPerInch) => ByProgram(Installed.Poppler!, folder =>
    {
        File.WriteAllBytes(Path.Combine(folder, "sheet.pdf"), pdf);
        return ["-r", $"{dotsPerInch}", "-f", "1", "-l", "1", "-singlefile", "-png", $"{folder}/sheet.pdf", $"{folder}/page"];
    });

    /// <summary>Runs a program that leaves page.png in the folder it is given.</summary>
    private static Mat ByProgram(string program, Func<string, string[]> arguments)
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-painted-").FullName;
        try
        {
            ProcessStartInfo start =
                new(program, arguments(folder)) { RedirectStandardError = true, RedirectStandardOutput = true, UseShellExecute = false };
            using Process process = Process.Start(start)!;
            process.BeginErrorReadLine();
            process.BeginOutputReadLine();
            process.WaitForExit();
            return Cv2.ImRead(Path.Combine(folder, "page.png"), ImreadModes.Grayscale);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    /// <summary>Black and white to the greys of burned and bare material.</summary>
    private static Mat Toned(byte[] png, byte burned, byte bare)
    {
        using Mat drawn = Cv2.ImDecode(png, ImreadModes.Grayscale);
        Mat toned = new();
        drawn.ConvertTo(toned, MatType.CV_8UC1, (bare - burned) / 255.0, burned);
        return toned;
    }

    /// <summary>The markers of a picture: id to its four corners, px; they must be burned darker.</summary>
    internal static Dictionary<int, Point2f[]> Markers(Mat picture)
    {
        using ArucoDetector detector = new(CvAruco.GetPredefinedDictionary(PredefinedDictionaryType.Dict6X6_1000), new(), new());
        detector.DetectMarkers(picture, out Point2f[][] corners, out int[] ids, out _);
        return ids.Zip(corners).ToDictionary(marker => marker.First, marker => marker.Second);
    }

    /// <summary>
    /// The same picture, held as a hand would hold a phone: what lies square in the picture is no photo. The caller disposes.
    /// </summary>
    /// <param name="picture">The picture.</param>
    /// <param name="moved">Where a place of it lies now.</param>
    internal static Mat Turned(Mat picture, out Func<Point2d, Point2d> moved)
    {
        const double degrees = 2;
        using Mat turn = Cv2.GetRotationMatrix2D(new(picture.Width / 2f, picture.Height / 2f), degrees, 1);
        double[,] m =
        {
            { turn.At<double>(0, 0), turn.At<double>(0, 1), turn.At<double>(0, 2) },
            { turn.At<double>(1, 0), turn.At<double>(1, 1), turn.At<double>(1, 2) }
        };
        moved = place => new(m[0, 0] * place.X + m[0, 1] * place.Y + m[0, 2], m[1, 0] * place.X + m[1, 1] * place.Y + m[1, 2]);
        Mat turned = new();
        Cv2.WarpAffine(picture, turned, turn, picture.Size(), InterpolationFlags.Cubic, BorderTypes.Replicate);
        return turned;
    }
}
