using CardScan.Model;
using OpenCvSharp;

namespace CardScan.Vision;

/// <summary>Why markers of a card are not found, by what the photo shows where they should stand.</summary>
internal static class MissingMarkers
{
    /// <summary>
    /// Mean code from which on a place is too pale for a marker (its border alone is black on 28 of its 64 modules), and code up to
    /// which it is too dark for a marker to stand out, of 255. No source.
    /// </summary>
    private const int White = 220, Dark = 60;

    /// <summary>With fewer markers than this, nothing is known of where the others stand.</summary>
    private const int FewestKnown = 2;

    private const int Reduction = 8;

    /// <summary>A refusal that names the markers, where they stand in the photo, what is wrong there and what to do.</summary>
    /// <param name="picture">The photo.</param>
    /// <param name="plan">The card's plan.</param>
    /// <param name="known">The markers that were found, one or more.</param>
    /// <param name="names">The others, in words.</param>
    /// <param name="missing">Their places.</param>
    public static Refusal Describe(Picture picture, Plan plan, SeenMarker[] known, string names, int[] missing)
    {
        string seen = $"{names} {(missing.Length == 1 ? "is" : "are")} not readable";
        if (known.Length < FewestKnown)
            return Refusal.OfPhoto("markers-missing", $"{seen}: covered, washed out, too dark, or out of the frame", "take the photo again with the whole card in the frame, nothing over its corners, and even light on them");

        Homography toPhoto = MarkerFinder.ToPhoto(plan, known);
        (string Where, string Why, string Cure)[] causes = [.. missing.Select(place => CauseOf(picture, [.. MarkerFinder.Square(plan.Fiducials.Markers[place], plan.Fiducials.SideMm, 0).Select(toPhoto.Map)]))];
        return Refusal.OfPhoto("markers-missing",
            $"{seen}: in the photo {string.Join("; ", causes.Select(cause => $"{cause.Where}, {cause.Why}"))}",
            $"{string.Join(", ", causes.Select(cause => cause.Cure).Distinct())}, and take the photo again with the whole card in the frame");
    }

    private static (string Where, string Why, string Cure) CauseOf(Picture picture, PlanePoint[] corners)
    {
        PlanePoint centre = new(corners.Average(corner => corner.X), corners.Average(corner => corner.Y));
        string where = $"{(centre.Y < picture.Height / 2.0 ? "upper" : "lower")} {(centre.X < picture.Width / 2.0 ? "left" : "right")}";
        if (!corners.All(corner => picture.Contains(corner.X, corner.Y))) return (where, "out of the frame", "step back a little");

        Mat grey = picture.Reduced.At(Reduction);
        Rect place = Cv2.BoundingRect(corners.Select(corner => new Point2f((float)(corner.X / Reduction), (float)(corner.Y / Reduction)))) & new Rect(0, 0, grey.Width, grey.Height);
        if (place.Width < 1 || place.Height < 1) return (where, "out of the frame", "step back a little");
        using Mat cutOut = new(grey, place);
        Cv2.MinMaxLoc(cutOut, out _, out double brightest);
        double mean = Cv2.Mean(cutOut).Val0;
        if (mean > White) return (where, "nearly white, washed out or under something pale", "free that corner, and slide the exposure down on the phone's screen or turn lamp and glare away from it");
        return brightest < Dark
            ? (where, "too dark", "give more light there, or slide the exposure up on the phone's screen")
            : (where, "covered, stained or without contrast", "free all four corners, and see that light falls evenly on them");
    }
}
