using CardScan.Model;

namespace CardScan.Vision;

/// <summary>What one photo, or several together, tell of a point of a side.</summary>
internal enum Station : byte
{
    /// <summary>The point was not looked at: it is out of the view, or another side's light lies over it.</summary>
    Unknown,

    /// <summary>No light was seen, but the view is too slanted to tell a bridge from a wall in the way.</summary>
    Hidden,

    /// <summary>Light could have been seen, and was not.</summary>
    Dark,

    /// <summary>Light comes through.</summary>
    Lit,

    /// <summary>The point belongs to a tab, which was left uncut on purpose: set when all photos are combined.</summary>
    Tab,
}

/// <summary>One side of a cell as judged from one photo, or from several together.</summary>
/// <param name="Stations">Point by point from the side's left or upper end.</param>
/// <param name="KerfMm">Width of the kerf at its narrowest where it is open, mm; null where it could not be measured.</param>
/// <param name="KerfWeight">How much light the width was measured from, mm: wider light is better measured.</param>
/// <param name="LengthMm">Length of the side, mm.</param>
/// <param name="BlurMm">Standard deviation of the picture's blur, mm; of several photos the most.</param>
internal sealed record SideView(Station[] Stations, double? KerfMm, double KerfWeight, double LengthMm, double BlurMm)
{
    /// <summary>A side that is alike all along, without a kerf.</summary>
    public static SideView Of(Cell cell, CellSide side, Station all)
    {
        double lengthMm = SideScan.Frame(cell, side).LengthMm;
        return new([.. Enumerable.Repeat(all, OpenStretches.Fineness * SideScan.StationsOf(lengthMm))], null, 0, lengthMm, 0);
    }

    /// <summary>Several photos' views of one side: open where any saw light, closed where one was well placed and none saw any.</summary>
    public static SideView Fuse(IReadOnlyList<SideView> views)
    {
        Station[] stations = [.. Enumerable.Range(0, views[0].Stations.Length).Select(i => views.Max(view => view.Stations[i]))];
        SideView[] measured = [.. views.Where(view => view.KerfMm is not null)];
        double weight = measured.Sum(view => view.KerfWeight);
        double? kerf = weight > 0 ? measured.Sum(view => view.KerfMm!.Value * view.KerfWeight) / weight : null;
        return new(stations, kerf, weight, views[0].LengthMm, views.Max(view => view.BlurMm));
    }
}
