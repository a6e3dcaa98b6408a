using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What one photo, or several together, tell of a point of a side.</summary>
internal enum Station : byte
{
    /// <summary>Neither light was seen nor could it have been.</summary>
    Unknown,

    /// <summary>Light could have been seen, and was not.</summary>
    Dark,

    /// <summary>Light comes through.</summary>
    Lit,
}

/// <summary>One side of a cell as judged from one photo, or from several together.</summary>
/// <param name="Stations">Point by point from the side's left or upper end.</param>
/// <param name="KerfMm">Width of the kerf at its narrowest where it is open, mm; null where it could not be measured.</param>
/// <param name="KerfWeight">How much light the width was measured from, mm: wider light is better measured.</param>
/// <param name="LengthMm">Length of the side, mm.</param>
internal sealed record SideView(Station[] Stations, double? KerfMm, double KerfWeight, double LengthMm)
{
    /// <summary>A side that is alike all along, without a kerf.</summary>
    public static SideView Of(Cell cell, CellSide side, Station all)
    {
        double lengthMm = SideScan.Frame(cell, side).LengthMm;
        return new([.. Enumerable.Repeat(all, SideScan.StationsOf(lengthMm))], null, 0, lengthMm);
    }

    /// <summary>Several photos' views of one side: open where any saw light, closed where one was well placed and none saw any.</summary>
    public static SideView Fuse(IReadOnlyList<SideView> views)
    {
        Station[] stations = [.. Enumerable.Range(0, views[0].Stations.Length).Select(i => views.Max(view => view.Stations[i]))];
        SideView[] measured = [.. views.Where(view => view.KerfMm is not null)];
        double weight = measured.Sum(view => view.KerfWeight);
        double? kerf = weight > 0 ? measured.Sum(view => view.KerfMm!.Value * view.KerfWeight) / weight : null;
        return new(stations, kerf, weight, views[0].LengthMm);
    }
}
