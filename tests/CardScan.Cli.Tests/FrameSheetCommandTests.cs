using CardScan.Model;
using CardScan.Workflow.Tests;
using SkiaSharp;

namespace CardScan.Cli.Tests;

/// <summary>From <c>plan --frame</c> over the printed page to <c>read</c>.</summary>
public class FrameSheetCommandTests
{
    private const int DotsPerInch = 250;
    private const float PxPerMm = DotsPerInch / 25.4f;
    private const float RightMm = 2.4f, DownMm = -1.6f, TurnDeg = 2.5f;

    [PopplerFact]
    public void A_printed_sheet_laid_askew_on_a_burned_piece_gives_a_reading()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run("plan", "--material", "slate", "--watts", "10", "--power", "30:90:4", "--speed", "1000:3000:3", "--number",
            "23", "--frame", "a4", "--no-archive", "--out", scratch["card"]).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["card/plan.json"])).Value.Plan;
        string photo = scratch.Write("photo.png", Photo(plan, scratch["card/frame.pdf"], scratch["page"]));

        CliRun run = Cli.Run("read", photo, "--plan", scratch["card/plan.json"], "--no-archive", "--out", scratch["out"]);

        Assert.Equal(0, run.Code);
        Assert.Contains("Paper mask: The grid lies 2.4 mm to the right of its planned place and 1.62 mm above it, turned by 2.5°",
            run.Output, StringComparison.Ordinal);
        Reading reading = CardJson.ReadReading(File.ReadAllBytes(scratch["out/reading.json"])).Value;
        FrameReading frame = reading.Photos[0].Frame!;
        Assert.Equal(RightMm, frame.OffsetXMm, 0.05);
        Assert.Equal(DownMm, frame.OffsetYMm, 0.05);
        Assert.Equal(TurnDeg, frame.TurnDeg, 0.05);
        Assert.All(reading.Cells, cell => Assert.Equal(DarknessOf(cell.Row, cell.Column), cell.Darkness!.Value, 0.04));
        Assert.Contains("The grid lies 2.4", File.ReadAllText(scratch["out/report.html"]), StringComparison.Ordinal);
        Assert.Equal(0, Cli.Run("score", scratch["out/reading.json"], "--json").Code);
    }

    private static double DarknessOf(int row, int column) => 0.15 + 0.15 * column + 0.1 * (2 - row);

    /// <summary>The page as Poppler prints it, the piece in its window, and a phone's tones over all.</summary>
    private static byte[] Photo(Plan plan, string pdf, string page)
    {
        using (System.Diagnostics.Process poppler = System.Diagnostics.Process.Start(Installed.Poppler!,
            ["-r", $"{DotsPerInch}", "-f", "1", "-l", "1", "-singlefile", "-png", pdf, page]))
            poppler.WaitForExit();
        using SKBitmap sheet = SKBitmap.Decode(page + ".png").Copy(SKColorType.Rgba8888);
        using (SKCanvas canvas = new(sheet))
        {
            canvas.Scale(PxPerMm);
            canvas.Translate((float)plan.Frame!.PaperXMm, (float)plan.Frame.PaperYMm);
            DrawPiece(canvas, plan);
        }

        using SKBitmap photo = new(sheet.Width, sheet.Height);
        using SKCanvas lens = new(photo);
        using SKColorFilter tone = SKColorFilter.CreateTable(Alpha(), Tones(), Tones(), Tones());
        using SKImageFilter soft = SKImageFilter.CreateBlur(1, 1);
        using SKPaint paint = new() { ColorFilter = tone, ImageFilter = soft };
        lens.DrawBitmap(sheet, 0, 0, SKSamplingOptions.Default, paint);
        using SKData png = photo.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    private static void DrawPiece(SKCanvas canvas, Plan plan)
    {
        Window window = plan.Frame!.Window;
        canvas.ClipRect(SKRect.Create((float)window.XMm, (float)window.YMm, (float)window.WidthMm, (float)window.HeightMm));
        const double bare = 0.5;
        canvas.Clear(Grey(bare));
        canvas.Translate(RightMm, DownMm);
        canvas.RotateDegrees(TurnDeg, (float)(window.XMm + window.WidthMm / 2), (float)(window.YMm + window.HeightMm / 2));
        foreach (Cell cell in plan.Cells)
        {
            using SKPaint mark = new() { Color = Grey(bare * Math.Pow(10, -DarknessOf(cell.Row, cell.Column))), IsAntialias = true };
            canvas.DrawRect((float)cell.XMm, (float)cell.YMm, (float)cell.WidthMm, (float)cell.HeightMm, mark);
        }
    }

    /// <summary>A little less light, so that paper is not at the top, and more contrast in the middle, as phones have it.</summary>
    private static byte[] Tones() => [.. Enumerable.Range(0, 256).Select(code =>
    {
        double dimmed = code / 255.0 * 0.93;
        return (byte)Math.Round(255 * (0.5 * dimmed + 0.5 * dimmed * dimmed * (3 - 2 * dimmed)));
    })];

    private static byte[] Alpha() => [.. Enumerable.Range(0, 256).Select(code => (byte)code)];

    /// <summary>sRGB coding (IEC 61966-2-1).</summary>
    private static SKColor Grey(double linear)
    {
        byte code = (byte)Math.Round(255 * (1.055 * Math.Pow(linear, 1 / 2.4) - 0.055));
        return new(code, code, code);
    }
}
