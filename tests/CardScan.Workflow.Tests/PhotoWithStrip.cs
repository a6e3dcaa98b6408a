using CardScan.Model;
using CardScan.Planning;
using OpenCvSharp;

namespace CardScan.Workflow.Tests;

/// <summary>
/// Photos of a card with a printed grey strip above it, as phones with tone curves of their own take them. The strip is printed by
/// Poppler, 12 % darker than it was asked for, and lies a little askew.
/// </summary>
internal static class PhotoWithStrip
{
    private const double Printed = 1.12, PaperWhite = 0.86, Table = 0.12, TurnDeg = 2.5, PxPerMm = 8;

    private const int MarginPx = 60;

    /// <summary>The strip and a card's photo in one, as a JPEG file.</summary>
    /// <param name="strip">The strip's plan.</param>
    /// <param name="card">The card's photo, of which codes are taken for sRGB.</param>
    /// <param name="exposure">How much light there is, in the photo's own.</param>
    /// <param name="curve">Code of a light, both 0 to 1.</param>
    public static byte[] Of(Plan strip, string card, double exposure, Func<double, double> curve)
    {
        using Mat photo = Cv2.ImRead(card), paper = PaperOf(strip);
        using Mat both = new(paper.Height + photo.Height, Math.Max(paper.Width, photo.Width), MatType.CV_8UC3, Scalar.All(Code(Table)));
        using Mat above = both[0, paper.Height, 0, paper.Width], below = both[paper.Height, both.Height, 0, photo.Width];
        paper.CopyTo(above);
        photo.CopyTo(below);
        using Mat codes = new(1, 256, MatType.CV_8UC1), seen = new();
        for (int code = 0; code < 256; code++)
        {
            double light = Math.Min(1, exposure * SrgbCurve.Linear(code / 255.0));
            codes.Set(0, code, (byte)Math.Round(255 * Math.Clamp(curve(light), 0, 1)));
        }

        Cv2.LUT(both, codes, seen);
        return seen.ToBytes(".jpg", new ImageEncodingParam(ImwriteFlags.JpegQuality, 92));
    }

    /// <summary>The strip as paper, in even light, with the grain that tells a photo from a drawing.</summary>
    private static Mat PaperOf(Plan strip)
    {
        using Mat page = RenderedCard.FirstPage(CardPlanner.PrintStrip(strip, Paper.A4), (int)Math.Round(PxPerMm * 25.4));
        (int left, int top) = ((int)((210 - strip.Card.WidthMm) / 2 * PxPerMm), (int)(20 * PxPerMm));
        (int width, int height) = ((int)(strip.Card.WidthMm * PxPerMm), (int)(strip.Card.HeightMm * PxPerMm));
        using Mat grey = page[top, top + height, left, left + width], cut = new();
        Cv2.CvtColor(grey, cut, ColorConversionCodes.GRAY2BGR);
        using Mat codes = new(1, 256, MatType.CV_8UC1), printed = new(), padded = new();
        for (int code = 0; code < 256; code++)
            codes.Set(0, code, Code(PaperWhite * Math.Pow(Math.Max(SrgbCurve.Linear(code / 255.0), 0.02), Printed)));
        Cv2.LUT(cut, codes, printed);
        Roughen(printed);
        Cv2.CopyMakeBorder(printed, padded, MarginPx, MarginPx, MarginPx, MarginPx, BorderTypes.Constant, Scalar.All(Code(Table)));
        using Mat turn = Cv2.GetRotationMatrix2D(new(padded.Width / 2f, padded.Height / 2f), TurnDeg, 1);
        Mat turned = new();
        Cv2.WarpAffine(padded, turned, turn, padded.Size(), InterpolationFlags.Linear, BorderTypes.Constant, Scalar.All(Code(Table)));
        return turned;
    }

    private static void Roughen(Mat picture)
    {
        Random random = new(5);
        (int width, int height) = (picture.Width, picture.Height);
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                byte code = (byte)Math.Clamp(picture.At<Vec3b>(y, x).Item0 + random.Next(-3, 4), 0, 255);
                picture.At<Vec3b>(y, x) = new(code, code, code);
            }
        }
    }

    private static byte Code(double light) => SrgbCurve.Byte(Math.Min(1, light));
}
