using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.FrameSheets;

/// <summary>Frame sheet and piece to picture: a pixel whose corners show the same thing is sampled once, any other 6 × 6 times.</summary>
internal sealed class FrameRenderer
{
    private const int EdgeSamples = 6;
    private const int Table = 0, Paper = 1, Ink = 2, BarePiece = 3, Label = 4, FirstGrey = 5;
    private const double PaperLight = 0.8;

    private readonly FrameScene _scene;
    private readonly Plan _plan;
    private readonly double[] _light;
    private readonly int _firstCell;

    private FrameRenderer(FrameScene scene)
    {
        (_scene, _plan) = (scene, scene.Plan.Plan);
        _firstCell = FirstGrey + _plan.Frame!.GreySteps.Count;
        _light =
        [
            0.12, PaperLight, 0.03, scene.Bare, scene.Bare * 0.25,
            .. _plan.Frame.GreySteps.Select(step => PaperLight * Math.Pow(10, -step.Density)),
            .. _plan.Cells.Select(cell => scene.Bare * Math.Pow(10, -scene.Darkness(cell))),
        ];
    }

    public static LinearPicture Render(FrameScene scene) => new FrameRenderer(scene).Render();

    private LinearPicture Render()
    {
        int width = _scene.Camera.WidthPx, height = _scene.Camera.HeightPx;
        LinearPicture picture = new(width, height);
        Parallel.For(0, height, y =>
        {
            int[] above = Things(y - 0.5), below = Things(y + 0.5);
            for (int x = 0; x < width; x++)
            {
                bool isPlain = above[x] == above[x + 1] && above[x] == below[x] && above[x] == below[x + 1];
                double light = isPlain ? Sample(x, y) : Supersample(x, y);
                picture.Set(x, y, (light, light, light));
            }
        });
        if (_scene.BlurPx > 0) picture.Blur(_scene.BlurPx);
        if (_scene.Noise > 0) picture.AddNoise(_scene.Noise);
        return picture.Toned(_scene.Tone);

        int[] Things(double y) => [.. Enumerable.Range(0, width + 1).Select(x => ThingAt(_scene.Camera.ToCard(x - 0.5, y)))];
    }

    private double Supersample(int x, int y) => Enumerable.Range(0, EdgeSamples * EdgeSamples).Average(i =>
        Sample(x - 0.5 + (i % EdgeSamples + 0.5) / EdgeSamples, y - 0.5 + (i / EdgeSamples + 0.5) / EdgeSamples));

    private double Sample(double xPx, double yPx)
    {
        (double x, double y) at = _scene.Camera.ToCard(xPx, yPx);
        int thing = ThingAt(at);
        double light = _scene.Exposure * _scene.Light(at.x, at.y) * _light[thing];
        return _scene.Grain > 0 && thing >= BarePiece && thing is not (>= FirstGrey and < FirstGrey + 12)
            ? light * Math.Exp(_scene.Grain * Streaks.At(at.x, at.y))
            : light;
    }

    private int ThingAt((double X, double Y) sheet)
    {
        (double x, double y) = (sheet.X / _scene.PrintScale, sheet.Y / _scene.PrintScale);
        if (x < 0 || y < 0 || x >= _plan.Card.WidthMm || y >= _plan.Card.HeightMm) return Table;
        Window window = _plan.Frame!.Window;
        if (Holds(window.XMm, window.YMm, window.WidthMm, window.HeightMm, x, y)) return OnPiece(_scene.PlannedAt(sheet.X, sheet.Y));
        for (int i = 0; i < _plan.Frame.GreySteps.Count; i++)
        {
            GreyStep step = _plan.Frame.GreySteps[i];
            if (Holds(step.XMm, step.YMm, step.WidthMm, step.HeightMm, x, y)) return FirstGrey + i;
        }

        double side = _plan.Fiducials.SideMm;
        bool isInk = _plan.Fiducials.Markers.Any(marker => Holds(marker.XMm, marker.YMm, side, side, x, y)
            && MarkerBits.IsBlack(marker.Id, (int)((y - marker.YMm) / side * MarkerBits.Modules),
                (int)((x - marker.XMm) / side * MarkerBits.Modules)));
        return isInk || _plan.Frame.Rulers.Any(ruler => IsTick(ruler, x, y)) ? Ink : Paper;
    }

    /// <summary>Ticks of 0.2 mm, 3 mm long.</summary>
    private static bool IsTick(Ruler ruler, double x, double y)
    {
        (double along, double across, double length) = ruler.FromYMm == ruler.ToYMm
            ? (x - ruler.FromXMm, y - ruler.FromYMm, ruler.ToXMm - ruler.FromXMm)
            : (y - ruler.FromYMm, x - ruler.FromXMm, ruler.ToYMm - ruler.FromYMm);
        return across is >= 0 and < 3 && along >= -0.1 && along < length + 0.1 && Math.Abs(along - Math.Round(along)) < 0.1;
    }

    private int OnPiece((double X, double Y) at)
    {
        for (int i = 0; i < _plan.Cells.Count; i++)
        {
            Cell cell = _plan.Cells[i];
            if (Holds(cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm, at.X, at.Y)) return _firstCell + i;
        }

        return _plan.Cells.Any(cell => IsStroke(cell, at)) ? Label : BarePiece;
    }

    /// <summary>Strokes above the first row and left of the first column, where labels stand.</summary>
    private static bool IsStroke(Cell cell, (double X, double Y) at)
    {
        double x = at.X - cell.XMm, y = at.Y - cell.YMm;
        return (cell.Row == 0 && y is > -5.4 and < -3 && x is > 1 and < 7 && x % 1.5 < 0.3)
            || (cell.Column == 0 && x is > -9 and < -3 && y is > 2.8 and < 5.2 && (x + 9) % 1.5 < 0.3);
    }

    private static bool Holds(double left, double top, double width, double height, double x, double y) =>
        x >= left && y >= top && x < left + width && y < top + height;
}
