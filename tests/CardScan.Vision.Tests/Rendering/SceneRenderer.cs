using CardScan.Model;

namespace CardScan.Vision.Tests.Rendering;

/// <summary>
/// Scene to picture in linear light. A pixel whose four corners show the same thing is sampled once, any other 8 × 8
/// times, so that edges are as exact as the eye of the measuring code.
/// </summary>
internal sealed class SceneRenderer
{
    private const int EdgeSamples = 8;

    /// <summary>Rows that are painted one after the other, so that the corners of their pixels are looked at once.</summary>
    private const int BandRows = 32;

    private const int Table = 0, BareCard = 1, Burned = 2, Paper = 3, FirstCell = 4;

    private readonly Scene _scene;
    private readonly Plan _plan;
    private readonly (double R, double G, double B)[] _colours;

    /// <summary>Square millimetres of the card that hold nothing but bare material: most of it, and quick to tell.</summary>
    private readonly bool[,] _isBare;

    /// <summary>The burned rectangles of each cell: itself, or its lines.</summary>
    private readonly CardRectangle[][] _burned;

    private SceneRenderer(Scene scene)
    {
        (_scene, _plan) = (scene, scene.Plan.Plan);
        _colours =
        [
            (0.10, 0.12, 0.14), scene.Bare, Scaled(scene.MarkerRatio), (0.8, 0.8, 0.8),
            .. _plan.Cells.Select(cell => Burnt(scene.Darkness(cell))),
        ];
        _burned = [.. _plan.Cells.Select(cell => cell.Lines is { } lines
            ? lines.Select(line => LineOf(line, scene.LineWidthMm(cell, line))).ToArray()
            : [new(cell.XMm, cell.YMm, cell.WidthMm, cell.HeightMm)])];
        _isBare = BareSquares();

        (double R, double G, double B) Burnt(double darkness)
        {
            (double r, double g, double b) = scene.BurnTint;
            if (r == g && g == b) return Scaled(Math.Pow(10, -darkness));
            (double R, double G, double B) tinted = (scene.Bare.R * Math.Pow(10, -darkness * r), scene.Bare.G * Math.Pow(10, -darkness * g),
                scene.Bare.B * Math.Pow(10, -darkness * b));
            double level = Math.Pow(10, -darkness) * Luminance(scene.Bare) / Luminance(tinted);
            return (tinted.R * level, tinted.G * level, tinted.B * level);
        }

        (double, double, double) Scaled(double ratio) => (scene.Bare.R * ratio, scene.Bare.G * ratio, scene.Bare.B * ratio);
    }

    /// <summary>Y of linear sRGB (IEC 61966-2-1).</summary>
    private static double Luminance((double R, double G, double B) rgb) => 0.2126 * rgb.R + 0.7152 * rgb.G + 0.0722 * rgb.B;

    /// <summary>Renders the scene.</summary>
    public static LinearPicture Render(Scene scene) => new SceneRenderer(scene).Render();

    private LinearPicture Render()
    {
        int width = _scene.Camera.WidthPx, height = _scene.Camera.HeightPx;
        LinearPicture picture = new(width, height);
        Parallel.For(0, (height + BandRows - 1) / BandRows, band =>
        {
            int[] above = Things(BandRows * band - 0.5);
            for (int y = BandRows * band; y < Math.Min(height, BandRows * (band + 1)); y++)
            {
                int[] below = Things(y + 0.5);
                for (int x = 0; x < width; x++)
                {
                    bool isPlain = above[x] == above[x + 1] && above[x] == below[x] && above[x] == below[x + 1];
                    if (isPlain && _plan.Kind == CardKind.FocusLadder) isPlain = !MayHoldLine(x, y);
                    picture.Set(x, y, isPlain ? Sample(x, y) : Supersample(x, y));
                }

                above = below;
            }
        });
        if (_scene.BlurPx > 0) picture.Blur(_scene.BlurPx);
        // A deviation of 0 would mean "the same as across".
        if (_scene.MotionPx > 0) picture.Blur(_scene.MotionPx, 0.01);
        if (_scene.Noise > 0) picture.AddNoise(_scene.Noise);
        return picture;

        int[] Things(double y) => [.. Enumerable.Range(0, width + 1).Select(x =>
        {
            (double cardX, double cardY) = _scene.Camera.ToCard(x - 0.5, y);
            return ThingAt(cardX, cardY);
        })];
    }

    private (double R, double G, double B) Supersample(int x, int y)
    {
        double r = 0, g = 0, b = 0;
        for (int i = 0; i < EdgeSamples * EdgeSamples; i++)
        {
            (double R, double G, double B) sample = Sample(
                x - 0.5 + (i % EdgeSamples + 0.5) / EdgeSamples,
                y - 0.5 + (i / EdgeSamples + 0.5) / EdgeSamples);
            (r, g, b) = (r + sample.R, g + sample.G, b + sample.B);
        }

        const double share = 1.0 / (EdgeSamples * EdgeSamples);
        return (r * share, g * share, b * share);
    }

    private (double R, double G, double B) Sample(double xPx, double yPx)
    {
        (double x, double y) = _scene.Camera.ToCard(xPx, yPx);
        int thing = ThingAt(x, y);
        double light = _scene.Exposure * _scene.Light(x, y);
        if (_scene.Grain > 0 && thing is BareCard or >= FirstCell) light *= Math.Exp(_scene.Grain * Streaks.At(x, y));
        double glare = _scene.Glare is { } spot && thing != Table
            ? _scene.Exposure * spot.Strength
                * Math.Exp(-(Math.Pow(x - spot.X, 2) + Math.Pow(y - spot.Y, 2)) / (2 * spot.SpreadMm * spot.SpreadMm))
            : 0;
        (double r, double g, double b) = _colours[thing];
        return (r * light + glare, g * light + glare, b * light + glare);
    }

    private int ThingAt(double x, double y)
    {
        if (x < 0 || y < 0 || x >= _plan.Card.WidthMm || y >= _plan.Card.HeightMm) return Table;
        if (_isBare[(int)x, (int)y]) return BareCard;
        foreach (CardRectangle cover in _scene.Covers)
            if (cover.Holds(x, y)) return Paper;
        for (int i = 0; i < _plan.Cells.Count; i++)
        {
            foreach (CardRectangle burned in _burned[i])
                if (burned.Holds(x, y)) return FirstCell + i;
        }

        foreach (Marker marker in _plan.Fiducials.Markers)
            if (IsBurned(marker, x - marker.XMm, y - marker.YMm)) return Burned;
        return BareCard;
    }

    /// <summary>A line may be narrower than a pixel and pass between its corners.</summary>
    private bool MayHoldLine(int xPx, int yPx)
    {
        (double x, double y) = _scene.Camera.ToCard(xPx, yPx);
        return x >= 0 && y >= 0 && x < _plan.Card.WidthMm && y < _plan.Card.HeightMm && !_isBare[(int)x, (int)y];
    }

    private static CardRectangle LineOf(BurnedLine line, double widthMm) => line.FromXMm == line.ToXMm
        ? new(line.FromXMm - widthMm / 2, Math.Min(line.FromYMm, line.ToYMm), widthMm, Math.Abs(line.ToYMm - line.FromYMm))
        : new(Math.Min(line.FromXMm, line.ToXMm), line.FromYMm - widthMm / 2, Math.Abs(line.ToXMm - line.FromXMm), widthMm);

    private bool[,] BareSquares()
    {
        double side = _plan.Fiducials.SideMm, bleed = _scene.MarkerBleedMm;
        CardRectangle[] things =
        [
            .. _scene.Covers,
            .. _burned.SelectMany(burned => burned),
            .. _plan.Fiducials.Markers.Select(marker =>
                new CardRectangle(marker.XMm - bleed, marker.YMm - bleed, side + 2 * bleed, side + 2 * bleed)),
        ];
        bool[,] isBare = new bool[(int)Math.Ceiling(_plan.Card.WidthMm), (int)Math.Ceiling(_plan.Card.HeightMm)];
        for (int x = 0; x < isBare.GetLength(0); x++)
            for (int y = 0; y < isBare.GetLength(1); y++)
                isBare[x, y] =
                    !things.Any(thing => x < thing.X + thing.Width && thing.X < x + 1 && y < thing.Y + thing.Height && thing.Y < y + 1);
        return isBare;
    }

    private bool IsBurned(Marker marker, double x, double y)
    {
        double side = _plan.Fiducials.SideMm, bleed = _scene.MarkerBleedMm;
        if (x < -bleed || y < -bleed || x >= side + bleed || y >= side + bleed) return false;
        double module = side / MarkerBits.Modules;
        // Char reaches into a bare module from every burned one within the bleed.
        return IsBlack(x, y)
            || (bleed > 0 && (IsBlack(x - bleed, y) || IsBlack(x + bleed, y) || IsBlack(x, y - bleed) || IsBlack(x, y + bleed)
                || IsBlack(x - bleed, y - bleed) || IsBlack(x + bleed, y - bleed)
                || IsBlack(x - bleed, y + bleed) || IsBlack(x + bleed, y + bleed)));

        bool IsBlack(double atX, double atY) =>
            atX >= 0 && atY >= 0 && atX < side && atY < side && MarkerBits.IsBlack(marker.Id, (int)(atY / module), (int)(atX / module));
    }
}

/// <summary>Grain as smooth streaks along x: mean 0, standard deviation about 1, the same in every run.</summary>
internal static class Streaks
{
    public const double LengthMm = 12, WidthMm = 0.5;

    public static double At(double xMm, double yMm)
    {
        double x = xMm / LengthMm, y = yMm / WidthMm;
        int left = (int)Math.Floor(x), top = (int)Math.Floor(y);
        double fx = x - left, fy = y - top;
        double value = (1 - fy) * ((1 - fx) * Knot(left, top) + fx * Knot(left + 1, top))
            + fy * ((1 - fx) * Knot(left, top + 1) + fx * Knot(left + 1, top + 1));
        // A bilinear mean of knots uniform in ±1 has a standard deviation of 0.385 over the plane.
        return value / 0.385;
    }

    private static double Knot(int i, int j)
    {
        uint hash = unchecked((uint)(i * 374761393 + j * 668265263));
        hash = (hash ^ (hash >> 13)) * 1274126177;
        return (hash ^ (hash >> 16)) / (double)uint.MaxValue * 2 - 1;
    }
}
