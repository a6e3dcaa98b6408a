using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>
/// Paints the light of a lamp into the room's picture: one ray from the lens for each of 8 × 8 points (unless told
/// otherwise) of every pixel near a cutting path or the card's rim. Blur and noise come last, over lamp and card alike.
/// </summary>
internal sealed class BackLitRenderer
{
    private const double NearPathMm = 0.6;
    private const double RimMm = 0.5;

    private readonly BackLitScene _scene;
    private readonly Plan _plan;
    private readonly LinearPicture _picture;
    private readonly (Cell Cell, CutCell Cut, double HaloMm)[] _cells;
    private readonly TwoPlanes _planes;

    /// <summary>The cells that reach into each square millimetre of the card: none in most.</summary>
    private readonly (Cell Cell, CutCell Cut, double HaloMm)[][] _cellsBySquare;
    private readonly (double X, double Y, double Z) _lens;

    private BackLitRenderer(BackLitScene scene)
    {
        (_scene, _plan) = (scene, scene.Room.Plan.Plan);
        _picture = SceneRenderer.Render(scene.Room);
        _cells = [.. _plan.Cells.Select(cell => (cell, scene.Cut(cell), scene.HaloMm(cell)))];
        _cellsBySquare = [.. Enumerable.Range(0, Squares(_plan.Card.WidthMm) * Squares(_plan.Card.HeightMm)).Select(CellsInSquare)];
        _planes = new(
            (x, y) => At(x, y) is { } near && near.Cut.IsOpenInFace(near.Cell, x - near.Cell.XMm, y - near.Cell.YMm),
            (x, y) => At(x, y) is { } near && near.Cut.IsOpenFar(near.Cell, x - near.Cell.XMm, y - near.Cell.YMm),
            scene.ThicknessMm);
        _lens = scene.Room.Camera.LensMm;
    }

    /// <summary>Renders the scene.</summary>
    public static LinearPicture Render(BackLitScene scene) => new BackLitRenderer(scene).Render();

    private LinearPicture Render()
    {
        Parallel.For(0, _picture.Height, y =>
        {
            for (int x = 0; x < _picture.Width; x++)
            {
                (double cardX, double cardY) = _scene.Room.Camera.ToCard(x, y);
                int samples = SamplesAt(cardX, cardY);
                if (samples > 0) _picture.Set(x, y, Sampled(x, y, samples));
            }
        });
        if (_scene.BlurPx > 0) _picture.Blur(_scene.BlurPx);
        if (_scene.Noise > 0) _picture.AddNoise(_scene.Noise);
        return _picture;
    }

    /// <summary>Samples along each edge of a pixel: none where the room's picture stands, one where nothing ends within it.</summary>
    private int SamplesAt(double x, double y)
    {
        if (IsBeyondCard(x, y, -RimMm)) return IsBeyondCard(x, y, +RimMm) ? 1 : _scene.EdgeSamples;
        return At(x, y) is not { } near ? 0 : near.Cut.IsDropped || FromPath(near.Cell, x, y) < NearPathMm ? _scene.EdgeSamples : 1;
    }

    private (double R, double G, double B) Sampled(int xPx, int yPx, int samples)
    {
        (double R, double G, double B) card = _picture.At(xPx, yPx);
        double light = 0, share = 0;
        for (int i = 0; i < samples * samples; i++)
        {
            (double x, double y) =
                _scene.Room.Camera.ToCard(xPx - 0.5 + (i % samples + 0.5) / samples, yPx - 0.5 + (i / samples + 0.5) / samples);
            (double fromLamp, double ofCard) = Sample(x, y);
            (light, share) = (light + fromLamp, share + ofCard);
        }

        (light, share) = (light / (samples * samples), share / (samples * samples));
        return (card.R * share + light, card.G * share + light, card.B * share + light);
    }

    /// <summary>Light of the lamp that this ray meets, and the share of the bare card's light that it meets.</summary>
    private (double FromLamp, double OfCard) Sample(double x, double y)
    {
        if (IsBeyondCard(x, y, 0)) return (_scene.Lamp(x, y), 0);
        if (_planes.Passes(_lens, x, y))
        {
            (double farX, double farY) = _planes.FarPoint(_lens, x, y);
            return (_scene.Lamp(farX, farY), 0);
        }

        if (_planes.IsOpenInFace(x, y)) return (_scene.WallGlow, _scene.GrooveRatio);
        return (0, At(x, y) is { HaloMm: > 0 } near ? 1 - 0.8 * Math.Exp(-FromPath(near.Cell, x, y) / near.HaloMm) : 1);
    }

    private bool IsBeyondCard(double x, double y, double marginMm) =>
        x < -marginMm || y < -marginMm || x > _plan.Card.WidthMm + marginMm || y > _plan.Card.HeightMm + marginMm;

    /// <summary>The cell whose paths are near; null on open ground and in a piece's middle.</summary>
    private (Cell Cell, CutCell Cut, double HaloMm)? At(double x, double y)
    {
        if (IsBeyondCard(x, y, 0)) return null;
        foreach ((Cell Cell, CutCell Cut, double HaloMm) near in _cellsBySquare[(int)y * Squares(_plan.Card.WidthMm) + (int)x])
        {
            double reach = ReachOf(near.HaloMm);
            if (x < near.Cell.XMm - reach || y < near.Cell.YMm - reach
                || x > near.Cell.XMm + near.Cell.WidthMm + reach || y > near.Cell.YMm + near.Cell.HeightMm + reach)
                continue;
            if (near.Cut.IsDropped) return near;
            return FromPath(near.Cell, x, y) < reach ? near : null;
        }

        return null;
    }

    private (Cell, CutCell, double)[] CellsInSquare(int square)
    {
        int x = square % Squares(_plan.Card.WidthMm), y = square / Squares(_plan.Card.WidthMm);
        return [.. _cells.Where(near => x + 1 >= near.Cell.XMm - ReachOf(near.HaloMm)
            && x <= near.Cell.XMm + near.Cell.WidthMm + ReachOf(near.HaloMm)
            && y + 1 >= near.Cell.YMm - ReachOf(near.HaloMm) && y <= near.Cell.YMm + near.Cell.HeightMm + ReachOf(near.HaloMm))];
    }

    private static int Squares(double mm) => (int)mm + 1;

    private static double ReachOf(double haloMm) => Math.Max(NearPathMm, 4 * haloMm);

    private static double FromPath(Cell cell, double x, double y)
    {
        double fromLeft = x - cell.XMm, fromTop = y - cell.YMm, fromRight = fromLeft - cell.WidthMm, fromBottom = fromTop - cell.HeightMm;
        double outX = Math.Max(-fromLeft, fromRight), outY = Math.Max(-fromTop, fromBottom);
        if (outX <= 0 && outY <= 0) return Math.Min(-outX, -outY);
        return Math.Sqrt(Math.Pow(Math.Max(0, outX), 2) + Math.Pow(Math.Max(0, outY), 2));
    }
}
