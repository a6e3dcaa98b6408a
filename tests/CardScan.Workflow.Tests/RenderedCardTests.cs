using CardScan.Model;
using CardScan.Planning;
using CardScan.Vision;
using OpenCvSharp;

namespace CardScan.Workflow.Tests;

public class RenderedCardTests
{
    private const double ToleranceMm = 0.05;

    public static TheoryData<string> Kinds => ["engrave", "cut", "tabs", "ladder", "frame"];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void A_library_paints_the_drawing_as_it_was_planned(string kind)
    {
        const double pxPerMm = 20;
        Plan plan = PlanOf(kind);
        using Mat picture = RenderedCard.ByLibrary(RenderedCard.Black(CardPlanner.DrawSvg(plan)), pxPerMm, 0, 255);
        IsAsPlanned(picture, plan, pxPerMm, RenderedCard.MarginPx);
    }

    [BrowserTheory]
    [MemberData(nameof(Kinds))]
    public void A_browser_paints_the_drawing_as_it_was_planned(string kind)
    {
        const double zoom = 4;
        Plan plan = PlanOf(kind);
        using Mat picture = RenderedCard.ByBrowser(RenderedCard.Black(CardPlanner.DrawSvg(plan)), zoom);
        IsAsPlanned(picture, plan, zoom * 96 / 25.4, 0);
    }

    [Theory]
    [InlineData(17, 60, 190, 10)] // burned darker
    [InlineData(249, 190, 60, 15)] // burned lighter
    [InlineData(120, 90, 160, 12)]
    public void A_picture_of_the_drawing_gives_back_the_plan(int number, byte burned, byte bare, double markerSideMm)
    {
        const double pxPerMm = 15;
        Plan plan = CardPlanner.MakePlan(Usual with { Number = number, MarkerSideMm = markerSideMm }).Value;
        using Mat drawn = RenderedCard.ByLibrary(RenderedCard.Black(CardPlanner.DrawSvg(plan)), pxPerMm, burned, bare),
            picture = RenderedCard.Turned(drawn, out Func<Point2d, Point2d> moved);

        Reading reading = OneCard.Read([new PhotoFile("drawn.png", picture.ToBytes())], new PlanFile(plan, ""), new()).Value.Reading;

        foreach ((Cell cell, CellReading read) in plan.Cells.Zip(reading.Cells))
        {
            double x = RenderedCard.MarginPx + pxPerMm * (cell.XMm + cell.WidthMm / 2) - 0.5,
                y = RenderedCard.MarginPx + pxPerMm * (cell.YMm + cell.HeightMm / 2) - 0.5;
            Point2d place = moved(new(x, y));
            double errorMm = Math.Sqrt(Math.Pow(read.CenterPx!.X - place.X, 2) + Math.Pow(read.CenterPx.Y - place.Y, 2)) / pxPerMm;
            Assert.True(errorMm < 0.02, $"cell {cell.Row}, {cell.Column} is {errorMm:F3} mm off");
            Assert.Equal(Density(burned, bare), read.Darkness!.Value, 0.01);
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_cell_is_painted_in_the_colour_of_its_setting(string kind)
    {
        const double pxPerMm = 40;
        Plan plan = PlanOf(kind);
        (double left, double top) = (plan.Frame?.Window.XMm ?? 0, plan.Frame?.Window.YMm ?? 0);
        using Mat picture = RenderedCard.InColour(CardPlanner.DrawSvg(plan), pxPerMm);
        foreach (BurnStep step in CardPlanner.StepsOf(plan))
        {
            foreach (Cell cell in step.Cells)
            {
                (double x, double y) = PlaceIn(cell, plan);
                int row = (int)((y - top) * pxPerMm) + RenderedCard.MarginPx, column = (int)((x - left) * pxPerMm) + RenderedCard.MarginPx;
                Vec3b seen = picture.At<Vec3b>(row, column);
                Assert.Equal(step.Colour, $"#{seen.Item2:X2}{seen.Item1:X2}{seen.Item0:X2}");
            }
        }
    }

    [Theory]
    [InlineData("engrave", 8)]
    [InlineData("engrave", 20)]
    [InlineData("cut", 12)]
    [InlineData("ladder", 12)]
    public void The_coloured_drawing_is_no_photo(string kind, double pxPerMm)
    {
        Plan plan = PlanOf(kind);
        using Mat picture = RenderedCard.InColour(CardPlanner.DrawSvg(plan), pxPerMm);
        ImageEncodingParam coarse = new(ImwriteFlags.JpegQuality, 80);
        foreach (byte[] saved in (byte[][])[picture.ToBytes(), picture.ToBytes(".jpg", coarse)])
        {
            Refusal refusal = OneCard.Read([new PhotoFile("screen", saved)], new PlanFile(plan, ""), new()).Refusal!;
            Assert.Equal("not-a-photo", refusal.Code);
        }
    }

    [PopplerFact]
    public void A_printed_frame_sheet_has_its_markers_greys_and_scales_where_the_plan_says()
    {
        const int dotsPerInch = 600;
        Plan plan = PlanOf("frame");
        FrameSheet frame = plan.Frame!;
        using Mat page = RenderedCard.FirstPage(CardPlanner.PrintFrame(plan), dotsPerInch);
        PictureOfPlan seen = new(page, dotsPerInch / 25.4, 0, -frame.PaperXMm, -frame.PaperYMm);
        Assert.Equal(frame.PaperWidthMm, page.Width / (dotsPerInch / 25.4), 0.1);
        Assert.Equal(frame.PaperHeightMm, page.Height / (dotsPerInch / 25.4), 0.1);
        MarkersAreThere(page, plan.Fiducials, seen);
        foreach (GreyStep step in frame.GreySteps)
            Assert.Equal(step.Density, Density(seen.GreyAt(step.XMm + step.WidthMm / 2, step.YMm + step.HeightMm / 2), 255), 0.02);
        foreach (Ruler ruler in frame.Rulers)
        {
            for (double at = 0; at <= Math.Max(ruler.ToXMm - ruler.FromXMm, ruler.ToYMm - ruler.FromYMm); at += 10 * ruler.StepMm)
            {
                bool isAcross = ruler.FromYMm == ruler.ToYMm;
                double expected = (isAcross ? ruler.FromXMm : ruler.FromYMm) + at;
                double tick = isAcross
                    ? seen.DarkAcross(expected - 0.4, expected + 0.4, ruler.FromYMm + 2.6).Middle
                    : seen.DarkDown(expected - 0.4, expected + 0.4, ruler.FromXMm + 2.6).Middle;
                Assert.Equal(expected, tick, ToleranceMm);
            }
        }
    }

    /// <summary>A place of a cell that is burned, mm: the middle of a fill, of the left half of an upper side, or of a line.</summary>
    private static (double X, double Y) PlaceIn(Cell cell, Plan plan) =>
        cell.Lines is { } lines ? ((lines[0].FromXMm + lines[0].ToXMm) / 2, lines[0].FromYMm)
        : plan.Process == Process.Cut ? (cell.XMm + cell.WidthMm / 4, cell.YMm)
        : (cell.XMm + cell.WidthMm / 2, cell.YMm + cell.HeightMm / 2);

    private static PlanRequest Usual => new()
    {
        Number = 42,
        Material = new() { Name = "board", ThicknessMm = 3 },
        Machine = new() { Name = "bench", RatedOpticalWatts = 10 },
        Settings =
            [SettingRange.Parse(Setting.PowerPercent, "20:80:5").Value, SettingRange.Parse(Setting.SpeedMmPerMin, "1000:3000:4").Value],
    };

    private static Plan PlanOf(string kind) => CardPlanner.MakePlan(kind switch
    {
        "engrave" => Usual,
        "cut" => Usual with { Process = Process.Cut },
        "tabs" => Usual with { Process = Process.Cut, TabsPerSide = 1, TabMm = 1 },
        "frame" => Usual with { Frame = Paper.A4, CellSideMm = 6 },
        _ => Usual with
        {
            Kind = CardKind.FocusLadder,
            CellSideMm = 12,
            Settings =
            [
                Usual.Settings[0],
                SettingRange.Parse(Setting.SpeedMmPerMin, "1000").Value,
                SettingRange.Parse(Setting.FocusOffsetMm, "-1:1:4").Value
            ]
        },
    }).Value;

    private static void IsAsPlanned(Mat picture, Plan plan, double pxPerMm, int marginPx)
    {
        PictureOfPlan seen = new(picture, pxPerMm, marginPx, plan.Frame?.Window.XMm ?? 0, plan.Frame?.Window.YMm ?? 0);
        MarkersAreThere(picture, plan.Frame is null ? plan.Fiducials : plan.Fiducials with { Markers = [] }, seen);
        foreach (Cell cell in plan.Cells)
        {
            if (cell.Lines is { } lines) Assert.All(lines, line => LineIsThere(seen, line));
            else if (plan.Process == Process.Cut) OutlineIsThere(seen, cell);
            else FillIsThere(seen, cell);
        }
    }

    private static void MarkersAreThere(Mat picture, Fiducials fiducials, PictureOfPlan seen)
    {
        Dictionary<int, Point2f[]> found = RenderedCard.Markers(picture);
        Assert.Equal(fiducials.Markers.Select(marker => marker.Id), found.Keys.Order());
        double side = fiducials.SideMm, halfModule = side / 16;
        foreach (Marker marker in fiducials.Markers)
        {
            // The detector's corners are good to a pixel or two: they tell which marker stands where, the black border where exactly.
            Assert.Equal(marker.XMm, seen.XOf(found[marker.Id][0].X), 4 * ToleranceMm);
            Assert.Equal(marker.YMm, seen.YOf(found[marker.Id][0].Y), 4 * ToleranceMm);
            (double x, double width) = seen.DarkAcross(marker.XMm - 1, marker.XMm + side + 1, marker.YMm + halfModule);
            (double y, double height) = seen.DarkDown(marker.YMm - 1, marker.YMm + side + 1, marker.XMm + halfModule);
            Assert.Equal(marker.XMm + side / 2, x, ToleranceMm);
            Assert.Equal(marker.YMm + side / 2, y, ToleranceMm);
            Assert.Equal(side, width, ToleranceMm);
            Assert.Equal(side, height, ToleranceMm);
        }
    }

    private static void FillIsThere(PictureOfPlan seen, Cell cell)
    {
        double right = cell.XMm + cell.WidthMm, bottom = cell.YMm + cell.HeightMm;
        (double left, double width) = seen.DarkAcross(cell.XMm - 2, right + 2, cell.YMm + cell.HeightMm / 2);
        (double top, double height) = seen.DarkDown(cell.YMm - 2, bottom + 2, cell.XMm + cell.WidthMm / 2);
        Assert.Equal((cell.XMm + right) / 2, left, ToleranceMm);
        Assert.Equal((cell.YMm + bottom) / 2, top, ToleranceMm);
        Assert.Equal(cell.WidthMm, width, ToleranceMm);
        Assert.Equal(cell.HeightMm, height, ToleranceMm);
    }

    /// <summary>Each side is crossed at a quarter of its length; where it has a tab, nothing is drawn in the tab's middle.</summary>
    private static void OutlineIsThere(PictureOfPlan seen, Cell cell)
    {
        double right = cell.XMm + cell.WidthMm, bottom = cell.YMm + cell.HeightMm, x = cell.XMm + cell.WidthMm / 4,
            y = cell.YMm + cell.HeightMm / 4;
        Assert.Equal(cell.XMm, seen.DarkAcross(cell.XMm - 1, cell.XMm + 1, y).Middle, ToleranceMm);
        Assert.Equal(right, seen.DarkAcross(right - 1, right + 1, y).Middle, ToleranceMm);
        Assert.Equal(cell.YMm, seen.DarkDown(cell.YMm - 1, cell.YMm + 1, x).Middle, ToleranceMm);
        Assert.Equal(bottom, seen.DarkDown(bottom - 1, bottom + 1, x).Middle, ToleranceMm);
        foreach (Tab tab in cell.Tabs ?? [])
        {
            (double, double) dark = tab.Side switch
            {
                CellSide.Left => seen.DarkAcross(cell.XMm - 1, cell.XMm + 1, cell.YMm + tab.AtMm),
                CellSide.Right => seen.DarkAcross(right - 1, right + 1, cell.YMm + tab.AtMm),
                CellSide.Top => seen.DarkDown(cell.YMm - 1, cell.YMm + 1, cell.XMm + tab.AtMm),
                _ => seen.DarkDown(bottom - 1, bottom + 1, cell.XMm + tab.AtMm),
            };
            Assert.Equal(0, dark.Item2, 0.01);
        }
    }

    private static void LineIsThere(PictureOfPlan seen, BurnedLine line)
    {
        double x = (line.FromXMm + line.ToXMm) / 2, y = (line.FromYMm + line.ToYMm) / 2;
        if (line.FromYMm == line.ToYMm) Assert.Equal(y, seen.DarkDown(y - 0.6, y + 0.6, x).Middle, ToleranceMm);
        else Assert.Equal(x, seen.DarkAcross(x - 0.6, x + 0.6, y).Middle, ToleranceMm);
    }

    /// <summary>D = −log10(Y / Y bare), Y by the transfer curve of IEC 61966-2-1.</summary>
    private static double Density(byte burned, byte bare)
    {
        return -Math.Log10(Linear(burned) / Linear(bare));

        static double Linear(byte value) => Math.Pow((value / 255.0 + 0.055) / 1.055, 2.4);
    }
}

/// <summary>Measures a black on white picture of a plan in the card frame.</summary>
/// <param name="picture">The picture, 8 bits.</param>
/// <param name="pxPerMm">Its scale.</param>
/// <param name="marginPx">What is around the drawing.</param>
/// <param name="leftMm">Left edge of the drawing in the card frame.</param>
/// <param name="topMm">Top edge of the drawing in the card frame.</param>
internal sealed class PictureOfPlan(Mat picture, double pxPerMm, int marginPx, double leftMm, double topMm)
{
    internal double XOf(double px) => (px + 0.5 - marginPx) / pxPerMm + leftMm;

    internal double YOf(double px) => (px + 0.5 - marginPx) / pxPerMm + topMm;

    internal byte GreyAt(double xMm, double yMm) => picture.At<byte>((int)Math.Floor(Px(yMm - topMm)), (int)Math.Floor(Px(xMm - leftMm)));

    /// <summary>Middle and width of what is black on a horizontal line, mm.</summary>
    internal (double Middle, double Width) DarkAcross(double fromMm, double toMm, double yMm)
    {
        int y = (int)Math.Floor(Px(yMm - topMm)), first = (int)Math.Floor(Px(fromMm - leftMm)), last = (int)Math.Floor(Px(toMm - leftMm));
        (double middle, double width) = Dark(Enumerable.Range(first, last - first + 1).Select(x => (x, picture.At<byte>(y, x))));
        return (XOf(middle), width);
    }

    /// <summary>Middle and height of what is black on a vertical line, mm.</summary>
    internal (double Middle, double Height) DarkDown(double fromMm, double toMm, double xMm)
    {
        int x = (int)Math.Floor(Px(xMm - leftMm)), first = (int)Math.Floor(Px(fromMm - topMm)), last = (int)Math.Floor(Px(toMm - topMm));
        (double middle, double height) = Dark(Enumerable.Range(first, last - first + 1).Select(y => (y, picture.At<byte>(y, x))));
        return (YOf(middle), height);
    }

    private double Px(double mm) => mm * pxPerMm + marginPx;

    /// <summary>By the share of black in each pixel, which is what a renderer without a tone curve leaves at an edge.</summary>
    private (double MiddlePx, double WidthMm) Dark(IEnumerable<(int At, byte Grey)> pixels)
    {
        double sum = 0, moment = 0;
        foreach ((int at, byte grey) in pixels)
        {
            double black = 1 - grey / 255.0;
            (sum, moment) = (sum + black, moment + black * at);
        }

        return (moment / sum, sum / pxPerMm);
    }
}
