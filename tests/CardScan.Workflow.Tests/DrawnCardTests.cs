using System.Globalization;
using System.Xml.Linq;
using CardScan.Model;
using CardScan.Planning;
using CardScan.Vision;
using SkiaSharp;

namespace CardScan.Workflow.Tests;

/// <summary>The drawing, painted by a library that knows nothing of plans, is read as if it were a photo.</summary>
public class DrawnCardTests
{
    private const float PxPerMm = 15;

    private const int MarginPx = 150;

    [Theory]
    [InlineData(17, 60, 190, 10)] // burned darker
    [InlineData(249, 190, 60, 15)] // burned lighter
    public void A_picture_of_the_drawing_gives_back_the_plan(int number, byte burned, byte bare, double markerSideMm)
    {
        Plan plan = CardPlanner.MakePlan(new()
        {
            Number = number,
            Material = new() { Name = "board" },
            Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
            MarkerSideMm = markerSideMm,
            Settings = [SettingRange.Parse(Setting.PowerPercent, "20:80:5").Value, SettingRange.Parse(Setting.SpeedMmPerMin, "1000:3000:4").Value],
        }).Value;
        byte[] png = Paint(plan, new(burned, burned, burned), new(bare, bare, bare));

        Reading reading = CardReader.Read([new PhotoFile("drawn.png", png)], new PlanFile(plan, ""), new()).Value.Reading;

        foreach ((Cell cell, CellReading read) in plan.Cells.Zip(reading.Cells))
        {
            double x = MarginPx + PxPerMm * (cell.XMm + cell.WidthMm / 2) - 0.5, y = MarginPx + PxPerMm * (cell.YMm + cell.HeightMm / 2) - 0.5;
            double errorMm = Math.Sqrt(Math.Pow(read.CenterPx!.X - x, 2) + Math.Pow(read.CenterPx.Y - y, 2)) / PxPerMm;
            Assert.True(errorMm < 0.02, $"cell {cell.Row}, {cell.Column} is {errorMm:F3} mm off");
            Assert.Equal(Density(burned, bare), read.Darkness!.Value, 0.01);
        }
    }

    /// <summary>D = −log10(Y / Y bare), Y by the transfer curve of IEC 61966-2-1.</summary>
    private static double Density(byte burned, byte bare)
    {
        return -Math.Log10(Linear(burned) / Linear(bare));

        static double Linear(byte value) => Math.Pow((value / 255.0 + 0.055) / 1.055, 2.4);
    }

    private static byte[] Paint(Plan plan, SKColor burned, SKColor bare)
    {
        XElement svg = XElement.Parse(CardPlanner.DrawSvg(plan));
        using SKBitmap bitmap = new((int)Math.Ceiling(plan.Card.WidthMm * PxPerMm) + 2 * MarginPx, (int)Math.Ceiling(plan.Card.HeightMm * PxPerMm) + 2 * MarginPx);
        using SKCanvas canvas = new(bitmap);
        canvas.Clear(bare);
        canvas.Translate(MarginPx, MarginPx);
        canvas.Scale(PxPerMm);
        foreach (XElement layer in svg.Elements().Where(element => element.Name.LocalName == "g"))
        {
            using SKPaint paint = new() { Color = burned, IsAntialias = true, IsStroke = (string?)layer.Attribute("fill") == "none", StrokeWidth = Number(layer, "stroke-width"), StrokeCap = SKStrokeCap.Round };
            foreach (XElement shape in layer.Descendants()) Paint(canvas, shape, paint);
        }

        using SKData png = bitmap.Encode(SKEncodedImageFormat.Png, 100);
        return png.ToArray();
    }

    private static void Paint(SKCanvas canvas, XElement shape, SKPaint paint)
    {
        if (shape.Name.LocalName == "rect") canvas.DrawRect(Number(shape, "x"), Number(shape, "y"), Number(shape, "width"), Number(shape, "height"), paint);
        if (shape.Name.LocalName != "path") return;
        canvas.Save();
        string[] place = [.. ((string?)shape.Attribute("transform") ?? "").Split(['(', ' ', ')'], StringSplitOptions.RemoveEmptyEntries)];
        if (place.Length >= 3) canvas.Translate(float.Parse(place[1], CultureInfo.InvariantCulture), float.Parse(place[2], CultureInfo.InvariantCulture));
        if (place.Length == 5) canvas.RotateDegrees(float.Parse(place[4], CultureInfo.InvariantCulture));
        using SKPath path = SKPath.ParseSvgPathData((string)shape.Attribute("d")!);
        canvas.DrawPath(path, paint);
        canvas.Restore();
    }

    private static float Number(XElement element, string name) => (float?)element.Attribute(name) ?? 0;
}
