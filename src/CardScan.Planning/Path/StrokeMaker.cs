using CardScan.Model;

namespace CardScan.Planning;

/// <summary>Turns shapes of the card frame into strokes on the machine.</summary>
/// <param name="frame">What lies on the machine.</param>
/// <param name="machine">The machine.</param>
internal sealed class StrokeMaker(BurnFrame frame, MachineNeeds machine)
{
    /// <summary>Room beyond the run-up, so that rounding in a controller does not eat it, mm.</summary>
    private const double RunUpMarginMm = 0.2;

    /// <summary>Lines along x that fill a rectangle, in turn to the right and to the left; line bands touch and end at the edges.</summary>
    internal IEnumerable<Stroke> Fill(double x, double y, double width, double height, double intervalMm, double speedMmPerMin)
    {
        int lines = LinesIn(height, intervalMm);
        for (int i = 0; i < lines; i++)
            yield return Scan(y + (i + 0.5) * height / lines, [(x, x + width)], speedMmPerMin, isReversed: i % 2 == 1);
    }

    /// <summary>A marker, line by line across all of its burned modules.</summary>
    internal IEnumerable<Stroke> Marker(Marker marker, double sideMm, double intervalMm, double speedMmPerMin)
    {
        double module = sideMm / MarkerPattern.Modules;
        int lines = LinesIn(module, intervalMm);
        for (int i = 0; i < lines * MarkerPattern.Modules; i++)
        {
            (double, double)[] spans = [.. MarkerPattern.Runs(marker.Id, i / lines)
                .Select(run => (marker.XMm + run.Start * module, marker.XMm + (run.Start + run.Length) * module))];
            yield return Scan(marker.YMm + (i + 0.5) * module / lines, spans, speedMmPerMin, isReversed: i % 2 == 1);
        }
    }

    /// <summary>One straight line of the card frame, with a run-up at both ends where the beam is switched in full motion.</summary>
    internal Stroke Line(BurnedLine line, double speedMmPerMin)
    {
        MachinePoint from = frame.At(line.FromXMm, line.FromYMm), to = frame.At(line.ToXMm, line.ToYMm);
        return WithRunUp(from, [new(to, true)], speedMmPerMin);
    }

    /// <summary>A path through points of the card frame; where the flag of a point is false the beam is off on the way to it.</summary>
    internal Stroke Through(IReadOnlyList<(double X, double Y, bool IsOn)> points)
    {
        IEnumerable<Segment> segments = points.Skip(1).Select(point => new Segment(frame.At(point.X, point.Y), point.IsOn));
        return new(frame.At(points[0].X, points[0].Y), segments.ToValueList());
    }

    internal static int LinesIn(double heightMm, double intervalMm) => Math.Max(1, (int)Math.Round(heightMm / intervalMm));

    private Stroke Scan(double y, (double From, double To)[] spans, double speedMmPerMin, bool isReversed)
    {
        double[] ends = [.. spans.SelectMany(span => (double[])[span.From, span.To])];
        if (isReversed) Array.Reverse(ends);
        Segment[] segments = [.. ends.Skip(1).Select((x, i) => new Segment(frame.At(x, y), IsOn: i % 2 == 0))];
        return WithRunUp(frame.At(ends[0], y), segments, speedMmPerMin);
    }

    private Stroke WithRunUp(MachinePoint start, Segment[] segments, double speedMmPerMin)
    {
        if (machine.Mode != BeamMode.Constant) return new(start, segments.ToValueList());
        double runUp = machine.RunUpMm(speedMmPerMin) + RunUpMarginMm;
        MachinePoint end = segments[^1].To;
        MachinePoint before = Beyond(end, start, runUp), after = Beyond(start, end, runUp);
        return new(before, [new(start, false), .. segments, new(after, false)]);
    }

    /// <summary>A point beyond the second one, as far as asked or as the work area goes.</summary>
    private MachinePoint Beyond(MachinePoint from, MachinePoint to, double distanceMm)
    {
        double length = from.DistanceTo(to);
        double x = to.XMm + (to.XMm - from.XMm) / length * distanceMm, y = to.YMm + (to.YMm - from.YMm) / length * distanceMm;
        return new(Math.Clamp(x, 0, machine.WidthMm), Math.Clamp(y, 0, machine.HeightMm));
    }
}
