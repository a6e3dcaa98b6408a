using System.Xml.Linq;
using CardScan.Model;

namespace CardScan.Reporting;

/// <summary>The boundary over the heat map: a power at each speed (what it is of: <see cref="GridSection"/>), with its 95 % band.</summary>
internal static class BoundaryLine
{
    private sealed record BoundaryPlace(Point Best, Point Low, Point High);

    /// <summary>Draws every goal's line.</summary>
    /// <returns>Nothing where the reading has no boundary or the axes are not power and speed.</returns>
    public static IEnumerable<XElement> Draw(Reading reading, GridFrame frame) =>
        (reading.Boundary ?? []).GroupBy(point => point.Goal).SelectMany((goal, index) => Draw([.. goal], frame, index));

    /// <summary>True when there is a boundary and it can be drawn on these axes.</summary>
    public static bool CanDraw(Reading reading, GridFrame frame) => Draw(reading, frame).Any();

    private static IEnumerable<XElement> Draw(List<BoundaryPoint> boundary, GridFrame frame, int index)
    {
        List<BoundaryPlace> places =
            [.. boundary.OrderBy(point => point.SpeedMmPerMin).Select(point => PlaceOf(point, frame)).OfType<BoundaryPlace>()];
        if (places.Count == 0) return [];
        if (places.Count == 1) places = AcrossOneCell(places[0], frame);

        IEnumerable<Point> low = places.Select(place => place.Low), high = places.AsEnumerable().Reverse().Select(place => place.High);
        string band = MarkSvg.Path([.. low, .. high], isClosed: true);
        string line = MarkSvg.Path([.. places.Select(place => place.Best)], isClosed: false);
        return
        [
            new("path", new XAttribute("d", band), Svg.Class("boundary-band")),
            new("path", new XAttribute("d", line), Svg.Class("boundary-casing")),
            new(
                "path", new XAttribute("d", line), Svg.Class("boundary-line"),
                index > 0 ? new XAttribute("stroke-dasharray", $"{4 + 3 * index} 4") : null),
        ];
    }

    private static BoundaryPlace? PlaceOf(BoundaryPoint point, GridFrame frame)
    {
        (Axis columns, Axis rows) = (frame.Plan.Columns, frame.Plan.Rows);
        bool isPowerAcross = columns.Setting == Setting.PowerPercent && rows.Setting == Setting.SpeedMmPerMin;
        bool isPowerDown = columns.Setting == Setting.SpeedMmPerMin && rows.Setting == Setting.PowerPercent;
        if (!isPowerAcross && !isPowerDown) return null;

        (Axis power, Axis speed) = isPowerAcross ? (columns, rows) : (rows, columns);
        // One speed alone has no order, yet its place is plain.
        double? along = speed.Values is [double only] && only == point.SpeedMmPerMin ? 0 : AxisPlace.Of(speed.Values, point.SpeedMmPerMin);
        if (along is not double there
            || AxisPlace.Of(power.Values, point.PowerPercent) is not double best
            || AxisPlace.Of(power.Values, point.Low) is not double low
            || AxisPlace.Of(power.Values, point.High) is not double high) return null;
        return isPowerAcross
            ? new(frame.Between(there, best), frame.Between(there, low), frame.Between(there, high))
            : new(frame.Between(best, there), frame.Between(low, there), frame.Between(high, there));
    }

    /// <summary>A single speed: the line crosses that one row or column.</summary>
    private static List<BoundaryPlace> AcrossOneCell(BoundaryPlace place, GridFrame frame)
    {
        bool isPowerAcross = frame.Plan.Columns.Setting == Setting.PowerPercent;
        Point half = isPowerAcross ? new(0, frame.CellHeight / 2) : new(frame.CellWidth / 2, 0);
        return [new(place.Best - half, place.Low - half, place.High - half), new(place.Best + half, place.Low + half, place.High + half)];
    }
}
