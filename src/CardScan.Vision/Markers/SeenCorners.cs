using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The corners of a card for a person to see: those that were found, and where the others should be.</summary>
internal static class SeenCorners
{
    /// <summary>One marker alone tells the places of the others too roughly to point at them.</summary>
    private const int FewestKnown = 2;

    /// <param name="picture">The photo.</param>
    /// <param name="plan">The card's plan.</param>
    /// <param name="seen">The markers that were found.</param>
    public static ValueList<CardCorner> Of(Picture picture, Plan plan, SeenMarker[] seen)
    {
        IEnumerable<CardCorner> found = seen.Select(marker => At(picture, marker.Place, marker.Corners, isFound: true));
        if (seen.Length is < FewestKnown or 4) return found.ToValueList();
        Homography toPhoto = MarkerFinder.ToPhoto(plan, seen);
        IEnumerable<CardCorner> missing = Enumerable.Range(0, 4).Except(seen.Select(marker => marker.Place)).Select(place => At(
            picture, place, MarkerFinder.Square(plan.Fiducials.Markers[place], plan.Fiducials.SideMm, 0).Select(toPhoto.Map),
            isFound: false));
        return [.. found, .. missing.Where(corner => double.IsFinite(corner.X + corner.Y))];
    }

    private static CardCorner At(Picture picture, int place, IEnumerable<PlanePoint> square, bool isFound)
    {
        PlanePoint[] corners = [.. square];
        (double x, double y) = (corners.Average(corner => corner.X), corners.Average(corner => corner.Y));
        return new(place, x / picture.Width, y / picture.Height, isFound);
    }
}
