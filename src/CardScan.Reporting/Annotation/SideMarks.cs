using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>A side of a cut cell in its three looks: plain bar, cross stitches, dots. Colour only repeats what the shape says.</summary>
internal static class SideMarks
{
    /// <summary>Draws a side.</summary>
    /// <param name="look">Through, held or unseen.</param>
    /// <param name="from">One end.</param>
    /// <param name="to">The other end.</param>
    /// <param name="unit">Thickness of the bar; everything else is in proportion.</param>
    public static IEnumerable<Mark> Of(SideLook look, Point from, Point to, double unit) => look switch
    {
        SideLook.Through => [new StrokeMark([from, to], unit, Ink.Through)],
        SideLook.Held => Stitches(from, to, unit),
        _ => Steps(from, to, 2 * unit).Select(point => new DotMark(point, 0.5 * unit, Ink.Unseen)),
    };

    /// <summary>Draws a side as it was read, with its longest bridge where that is known.</summary>
    /// <param name="side">The side.</param>
    /// <param name="from">Left or top end of the drawn side.</param>
    /// <param name="to">The other end.</param>
    /// <param name="lengthMm">Length of the side on the card, mm.</param>
    /// <param name="unit">Thickness of the bar.</param>
    public static IEnumerable<Mark> Of(SideReading side, Point from, Point to, double lengthMm, double unit) =>
        Of(ShownCell.Look(side.State), from, to, unit).Concat(Bridge(side, from, to, lengthMm, unit));

    /// <summary>A thick bar where the bridge is; nothing where its place is not known.</summary>
    private static IEnumerable<Mark> Bridge(SideReading side, Point from, Point to, double lengthMm, double unit)
    {
        if (!HasPlacedBridge(side)) yield break;
        double first = Math.Clamp((side.LongestBridgeAtMm!.Value - side.LongestBridgeMm!.Value / 2) / lengthMm, 0, 1);
        double last = Math.Clamp((side.LongestBridgeAtMm.Value + side.LongestBridgeMm.Value / 2) / lengthMm, 0, 1);
        yield return new StrokeMark([from + (to - from) * first, from + (to - from) * last], 1.8 * unit, Ink.Held, CasingFactor: 1.4);
    }

    /// <summary>True for a side that is open in part and whose bridge can be marked.</summary>
    public static bool HasPlacedBridge(SideReading side) =>
        side is { State: SideState.Partial, LongestBridgeMm: > 0, LongestBridgeAtMm: not null };

    private static IEnumerable<Mark> Stitches(Point from, Point to, double unit)
    {
        Point along = to - from;
        Point across = new Point(-along.Y, along.X) * (unit / along.Length);
        yield return new StrokeMark([from, to], 0.45 * unit, Ink.Held);
        foreach (Point point in Steps(from, to, 2.6 * unit))
            yield return new StrokeMark([point - across, point + across], 0.55 * unit, Ink.Held);
    }

    /// <summary>Points evenly spaced along a side, at the middle of equal steps.</summary>
    private static IEnumerable<Point> Steps(Point from, Point to, double step)
    {
        Point along = to - from;
        int count = Math.Max(2, (int)Math.Round(along.Length / step));
        for (int i = 0; i < count; i++) yield return from + along * ((i + 0.5) / count);
    }
}
