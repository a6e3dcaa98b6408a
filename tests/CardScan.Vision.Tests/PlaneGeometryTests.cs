using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

public sealed class PlaneGeometryTests
{
    [Fact] // Data/homography_exact4.csv
    public void Four_corners_give_the_exact_homography()
    {
        IReadOnlyList<ReferenceRow> rows = ReferenceTable.Read("homography_exact4.csv");
        ReferenceRow[] corners = [.. rows.Where(row => row.Text("kind") == "corner")];

        Homography fitted = Homography.Fit([.. corners.Select(Photo)], [.. corners.Select(Card)]);

        Assert.Equal(4, corners.Length);
        Assert.All(rows.Where(row => row.Text("kind") != "inverse"), row => IsAt(Card(row), fitted.Map(Photo(row)), 1e-8));
        Assert.All(rows, row => IsAt(Photo(row), fitted.Inverse().Map(Card(row)), 1e-5));

        static PlanePoint Photo(ReferenceRow row) => new(row.Number("x"), row.Number("y"));
        static PlanePoint Card(ReferenceRow row) => new(row.Number("u"), row.Number("v"));
    }

    [Fact] // Data/homography_overdetermined12.csv
    public void Twelve_noisy_points_give_the_homography_of_least_squares()
    {
        // Ours is linear least squares with the last element fixed, the table's DLT has unit norm: the published
        // spread between such solutions and the true minimum is 1.6e-4 mm on these points.
        IReadOnlyList<ReferenceRow> rows = ReferenceTable.Read("homography_overdetermined12.csv");
        PlanePoint[] photo = [.. rows.Select(row => new PlanePoint(row.Number("image_x"), row.Number("image_y")))];
        PlanePoint[] world = [.. rows.Select(row => new PlanePoint(row.Number("world_u"), row.Number("world_v")))];

        Homography fitted = Homography.Fit(photo, world);

        Assert.Equal(12, rows.Count);
        for (int i = 0; i < rows.Count; i++)
            IsAt(new(rows[i].Number("lm_u"), rows[i].Number("lm_v")), fitted.Map(photo[i]), 3e-4);
        double rms = Math.Sqrt(photo.Select((point, i) => fitted.Map(point).DistanceTo(world[i])).Average(d => d * d));
        Assert.InRange(rms, 0.036163877, 0.036165); // least possible 0.036163877660, DLT 0.036163974156
    }

    [Fact] // Data/projectpoints_brown.csv gives the undistorted places; k1 alone is worked here in units of the focal length
    public void Distortion_is_Browns_with_its_first_term_alone()
    {
        const double focal = 3200, k1 = -0.12;
        PlanePoint centre = new(2016, 1512);
        double halfDiagonal = Math.Sqrt(4032.0 * 4032 + 3024.0 * 3024) / 2;
        RadialDistortion lens = new(centre, halfDiagonal, k1 * Math.Pow(halfDiagonal / focal, 2));
        IReadOnlyList<ReferenceRow> rows = ReferenceTable.Read("projectpoints_brown.csv");

        Assert.Equal(9, rows.Count);
        Assert.All(rows, row =>
        {
            double x = row.Number("xn"), y = row.Number("yn"), stretch = 1 + k1 * (x * x + y * y);
            PlanePoint ideal = new(focal * x + centre.X, focal * y + centre.Y);
            PlanePoint seen = new(focal * x * stretch + centre.X, focal * y * stretch + centre.Y);
            IsAt(seen, lens.Distort(ideal), 1e-9);
            IsAt(ideal, lens.Undistort(seen), 1e-8);
        });
    }

    [Theory]
    [InlineData(0, 0)]
    [InlineData(20, 35)]
    [InlineData(40, 170)]
    public void The_cameras_place_and_tilt_come_out_of_the_homography(double tiltDeg, double rollDeg)
    {
        TestCamera camera = new() { TiltDeg = tiltDeg, RollDeg = rollDeg, DistanceMm = 220, AimMm = (40, 60) };
        PlanePoint[] corners = [new(0, 0), new(120, 0), new(120, 100), new(0, 100)];
        Homography toPhoto = Homography.Fit(corners, [.. corners.Select(corner => Seen(camera, corner))]);

        Camera found = Camera.From(toPhoto, new(799.5, 599.5), 1000, focalLength35Mm: 26);

        // The lens hangs over the card's far side when the near side comes towards it.
        double down = -220 * Math.Sin(tiltDeg * Math.PI / 180), roll = rollDeg * Math.PI / 180;
        Assert.True(found.IsFocalKnown);
        Assert.Equal(tiltDeg, found.TiltDeg, 1e-3);
        Assert.Equal(40 + Math.Sin(roll) * down, found.PositionMm.X, 1e-3);
        Assert.Equal(60 + Math.Cos(roll) * down, found.PositionMm.Y, 1e-3);
        Assert.Equal(220 * Math.Cos(tiltDeg * Math.PI / 180), found.PositionMm.Z, 1e-3);
    }

    private static PlanePoint Seen(TestCamera camera, PlanePoint card)
    {
        (double x, double y) = camera.ToPhoto(card.X, card.Y);
        return new(x, y);
    }

    private static void IsAt(PlanePoint expected, PlanePoint actual, double tolerance) =>
        Assert.True(expected.DistanceTo(actual) <= tolerance, $"expected {expected}, found {actual}");
}
