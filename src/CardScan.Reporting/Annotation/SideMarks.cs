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
