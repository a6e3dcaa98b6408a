using CardScan.Language;
using CardScan.Model;

namespace CardScan.Vision;

/// <summary>The pose with what tells how far to trust it.</summary>
/// <param name="Pose">The way between card and photo.</param>
/// <param name="BleedMm">How far all marker edges stand outside their plan (char, blur, tone), mm; negative is inside.</param>
/// <param name="ReprojectionRmsPx">RMS distance of the corners from the pose, px.</param>
/// <param name="PxPerMm">Scale at the card's centre, geometric mean of x and y.</param>
/// <param name="BlurPx">Standard deviation of the spread of the markers' edges, px.</param>
/// <param name="Camera">Where the camera stood.</param>
/// <param name="Warnings">What is doubtful.</param>
internal sealed record SolvedPose(
    CardPose Pose, double BleedMm, double ReprojectionRmsPx, double PxPerMm, double BlurPx, Camera Camera, ValueList<Warning> Warnings)
{
    /// <summary>How far the card is bowed; null where the photo does not tell.</summary>
    public CardBow? Bow { get; init; }
}

/// <summary>
/// Ten unknowns from the markers' corners: a homography, one radial distortion, and one common bleed of the marker
/// edges. Without the bleed, distortion would absorb it and bend the card's middle.
/// </summary>
/// <remarks>
/// Distortion and bleed carry weak prior knowledge (a phone's lens is nearly straight, a marker nearly its planned size),
/// so that three markers do not send them astray. See docs/method, "Pose".
/// </remarks>
internal static class PoseSolver
{
    /// <summary>Typical residual distortion of phones' main cameras at half the diagonal; prior standard deviation.</summary>
    public const double UsualK1 = 0.02;

    /// <summary>Typical bleed of a burned marker, mm; prior standard deviation.</summary>
    public const double UsualBleedMm = 0.2;

    /// <summary>Placement of a well seen corner, px.</summary>
    public const double CornerPx = 0.1;

    /// <summary>A residual above this says that cells cannot be found where the plan says, mm RMS.</summary>
    private const double UselessMm = 0.35;

    /// <summary>Solves the pose.</summary>
    public static Outcome<SolvedPose> Solve(Picture picture, ValueList<RefinedMarker> markers, Plan plan, double? focalLength35Mm)
    {
        if (markers.Count < 3) return Refusal.OfPhoto(Codes.MarkersUnclear);

        double halfDiagonal = Math.Sqrt(Math.Pow(picture.Width, 2) + Math.Pow(picture.Height, 2)) / 2;
        PlanePoint centre = new(picture.Centre.X, picture.Centre.Y);
        PlanePoint[] seen = [.. markers.SelectMany(marker => marker.Corners)];
        Homography start = Homography.Fit(PlannedCorners(markers, plan, bleedMm: 0), seen);

        double[] solution = LeastSquares.Minimise([.. Elements(start), 0, 0], Scales(start, plan), Residuals,
            2 * seen.Length + 2, huber: 3);
        (CardPose pose, double bleedMm) = Unpack(solution);

        double rmsPx = RmsPx(pose, markers, plan, bleedMm);
        (double X, double Y) scale = pose.ScaleAt(new(plan.Card.WidthMm / 2, plan.Card.HeightMm / 2));
        double pxPerMm = Math.Sqrt(scale.X * scale.Y);
        Camera camera = Camera.From(pose.ToIdeal, centre, halfDiagonal, focalLength35Mm);
        double residualMm = rmsPx / pxPerMm;
        if (residualMm > UselessMm || Math.Abs(bleedMm) > 0.12 * plan.Fiducials.SideMm)
            return Refusal.OfPhoto(Codes.NotThisPlan);

        return new SolvedPose(pose, bleedMm, rmsPx, pxPerMm, markers.Average(marker => marker.BlurPx), camera, []);

        void Residuals(double[] parameters, double[] residuals)
        {
            (CardPose trial, double bleed) = Unpack(parameters);
            PlanePoint[] planned = PlannedCorners(markers, plan, bleed);
            for (int i = 0; i < seen.Length; i++)
            {
                PlanePoint miss = trial.ToPhoto(planned[i]) - seen[i];
                residuals[2 * i] = miss.X / CornerPx;
                residuals[2 * i + 1] = miss.Y / CornerPx;
            }

            residuals[^2] = parameters[8] / UsualK1;
            residuals[^1] = bleed / UsualBleedMm;
        }

        (CardPose, double) Unpack(double[] parameters) =>
            (new CardPose(new Homography(parameters.AsSpan(0, 8)), new RadialDistortion(centre, halfDiagonal, parameters[8])),
                parameters[9]);
    }

    /// <summary>RMS distance of the corners from a pose, px.</summary>
    public static double RmsPx(CardPose pose, ValueList<RefinedMarker> markers, Plan plan, double bleedMm) =>
        Math.Sqrt(PlannedCorners(markers, plan, bleedMm)
            .Zip(markers.SelectMany(marker => marker.Corners), (planned, seen) => Math.Pow(pose.ToPhoto(planned).DistanceTo(seen), 2))
            .Average());

    /// <summary>Corners of the seen markers as planned and widened by the bleed, mm, in the markers' order.</summary>
    public static PlanePoint[] PlannedCorners(ValueList<RefinedMarker> markers, Plan plan, double bleedMm)
    {
        double low = -bleedMm, high = plan.Fiducials.SideMm + bleedMm;
        PlanePoint[] square = [new(low, low), new(high, low), new(high, high), new(low, high)];
        return [.. markers.SelectMany(seen =>
        {
            Marker marker = plan.Fiducials.Markers[seen.Place];
            return square.Select(corner => corner + new PlanePoint(marker.XMm, marker.YMm));
        })];
    }

    private static double[] Elements(Homography h) => [h[0, 0], h[0, 1], h[0, 2], h[1, 0], h[1, 1], h[1, 2], h[2, 0], h[2, 1]];

    /// <summary>What each parameter must change by to move the card's far edge by about one pixel … a hundred pixels.</summary>
    private static double[] Scales(Homography h, Plan plan)
    {
        double size = Math.Max(plan.Card.WidthMm, plan.Card.HeightMm);
        double linear = Math.Max(1e-3, Math.Sqrt(h[0, 0] * h[0, 0] + h[1, 0] * h[1, 0]));
        return [linear, linear, linear * size, linear, linear, linear * size, 0.1 / size, 0.1 / size, UsualK1, UsualBleedMm];
    }
}
