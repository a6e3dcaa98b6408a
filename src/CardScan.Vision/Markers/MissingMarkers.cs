using CardScan.Language;
using CardScan.Model;
using OpenCvSharp;
using static CardScan.Language.Figures;

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
    /// <param name="missing">Places of the others.</param>
    public static Refusal Describe(Picture picture, Plan plan, SeenMarker[] known, int[] missing)
    {
        if (known.Length < FewestKnown)
        {
            return Refusal.OfPhoto(Codes.MarkersMissing, ("missing", missing.Length), ("placed", Is(false)),
                ("markers", List(missing.Select(corner => (Figure)NameOf(plan.Number, corner)))));
        }

        Homography toPhoto = MarkerFinder.ToPhoto(plan, known);
        Cause[] causes = [.. missing.Select(corner => CauseOf(picture, corner,
            [.. MarkerFinder.Square(plan.Fiducials.Markers[corner], plan.Fiducials.SideMm, 0).Select(toPhoto.Map)]))];
        return Refusal.OfPhoto(Codes.MarkersMissing,
        [
            ("missing", missing.Length), ("placed", Is(true)),
            ("markers", List(causes.Select(cause =>
                (Figure)NameOf(plan.Number, cause.Corner, ("where", cause.Where), ("why", cause.Why))))),
            .. causes.Select(cause => cause.Why).Distinct().Select(why => (why, (Figure)Is(true))),
        ]);
    }

    /// <summary>"marker 28 (top left)", for a message; with what is wrong where it stands in the photo.</summary>
    public static Phrase NameOf(int card, int corner, params (string, Figure)[] cause) =>
        new("photo.marker", [("marker", 4 * card + corner), ("corner", corner), .. cause]);

    private static Cause CauseOf(Picture picture, int corner, PlanePoint[] square)
    {
        PlanePoint centre = new(square.Average(point => point.X), square.Average(point => point.Y));
        return new(corner, Quarters.Of(centre, picture.Width, picture.Height), WhyAt(picture, square));
    }

    /// <summary>What is wrong there, by its key in the message.</summary>
    private static string WhyAt(Picture picture, PlanePoint[] square)
    {
        if (!square.All(point => picture.Contains(point.X, point.Y))) return "frame";

        Mat grey = picture.Reduced.At(Reduction);
        Rect place = Cv2.BoundingRect(square.Select(point => new Point2f((float)(point.X / Reduction), (float)(point.Y / Reduction))))
            & new Rect(0, 0, grey.Width, grey.Height);
        if (place.Width < 1 || place.Height < 1) return "frame";
        using Mat cutOut = new(grey, place);
        Cv2.MinMaxLoc(cutOut, out _, out double brightest);
        double mean = Cv2.Mean(cutOut).Val0;
        if (mean > White) return "white";
        return brightest < Dark ? "dark" : "covered";
    }

    private sealed record Cause(int Corner, Phrase Where, string Why);
}
