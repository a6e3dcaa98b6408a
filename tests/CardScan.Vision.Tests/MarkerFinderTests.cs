using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>Markers drawn from the reference bits, so that dictionary and drawing are checked against each other.</summary>
public sealed class MarkerFinderTests
{
    private static readonly TestCamera Small = new() { WidthPx = 800, HeightPx = 600, RollDeg = 3 };

    public static TheoryData<int, bool> Cards()
    {
        TheoryData<int, bool> cards = [];
        for (int number = 0; number < 15; number++)
        {
            cards.Add(number, false);
            cards.Add(number, true);
        }

        return cards;
    }

    [Theory] // Data/aruco_6x6_1000_ids0-59.csv
    [MemberData(nameof(Cards))]
    public void All_four_markers_of_a_card_are_found_in_their_places(int number, bool isInverted)
    {
        Scene scene = new()
        {
            Plan = TestPlans.Engraved(number),
            Camera = Small,
            Bare = isInverted ? (0.06, 0.06, 0.06) : (0.5, 0.5, 0.5),
            MarkerRatio = isInverted ? 7 : 0.15,
        };
        using DecodedPhoto photo = PhotoOf(scene);

        MarkerSet found = MarkerFinder.Find(photo.Picture, scene.Plan.Plan, out _).Value;

        Assert.Equal([0, 1, 2, 3], found.Markers.Select(marker => marker.Place));
        Assert.Equal(isInverted, found.IsInverted);
        foreach (SeenMarker marker in found.Markers)
        {
            Marker planned = scene.Plan.Plan.Fiducials.Markers[marker.Place];
            PlanePoint[] square = [new(0, 0), new(10, 0), new(10, 10), new(0, 10)];
            for (int i = 0; i < 4; i++)
            {
                (double x, double y) = scene.Camera.ToPhoto(planned.XMm + square[i].X, planned.YMm + square[i].Y);
                Assert.InRange(marker.Corners[i].DistanceTo(new(x, y)), 0, 7);
            }
        }
    }

    [Theory]
    [InlineData(450)] // 27 px a marker, of 8 modules
    [InlineData(300)]
    public void A_small_card_in_a_big_picture_is_found_at_a_finer_scale(double distanceMm)
    {
        // At an eighth of the picture a module is less than a pixel: the quick search sees nothing.
        Scene scene = new() { Camera = new() { DistanceMm = distanceMm, RollDeg = 4 } };

        FindsAll(scene);
    }

    [Fact]
    public void A_marker_in_deep_shade_that_the_first_search_misses_is_found_by_a_later_one()
    {
        // Shade over the top left corner leaves a twelfth of the light there.
        Scene scene = new() { Light = (x, y) => x < 20 && y < 20 ? 0.08 : 1, Camera = new() { RollDeg = 4 } };

        FindsAll(scene);
    }

    [Theory]
    [InlineData(0, 0.25, false)] // char narrows a bare module of 1.25 mm between two burned ones to 0.75 mm
    [InlineData(9, 0.25, false)]
    [InlineData(14, 0.2, false)]
    [InlineData(0, 0.25, true)]
    [InlineData(7, 0.22, true)]
    public void Deeply_charred_markers_are_read_by_the_cores_of_their_modules(int number, double bleedMm, bool isInverted)
    {
        Scene scene = new()
        {
            Plan = TestPlans.Engraved(number),
            Camera = new() { RollDeg = 12, TiltDeg = 10 },
            Bare = isInverted ? (0.06, 0.06, 0.06) : (0.5, 0.5, 0.5),
            MarkerRatio = isInverted ? 5 : 0.2,
            MarkerBleedMm = bleedMm,
            BlurPx = 1,
            Noise = 0.01,
        };

        FindsAll(scene);
    }

    [Fact]
    public void Charred_markers_of_another_card_are_not_taken_for_the_plans()
    {
        foreach (int number in (int[])[0, 3, 9, 14])
        {
            using DecodedPhoto photo = PhotoOf(new Scene { Plan = TestPlans.Engraved(number), MarkerBleedMm = 0.25, BlurPx = 1 });

            Refusal? refusal = MarkerFinder.Find(photo.Picture, TestPlans.Engraved(7).Plan, out _).Refusal;

            Assert.Equal("other-card", refusal?.Code);
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void Squares_of_chance_are_no_markers(int seed)
    {
        // Framed like markers, their modules by chance: 40 of them, none of a card.
        const int module = 9, squares = 40, columns = 8, pitch = 14 * module;
        Random random = new(seed);
        using OpenCvSharp.Mat squared = new(5 * pitch, columns * pitch, OpenCvSharp.MatType.CV_8UC3, new OpenCvSharp.Scalar(200, 205, 210));
        for (int square = 0; square < squares; square++)
        {
            (int left, int top) = (square % columns * pitch + 2 * module, square / columns * pitch + 2 * module);
            Paint(left, top, 8 * module, 40);
            for (int i = 0; i < 36; i++)
                if (random.Next(2) == 1) Paint(left + (1 + i % 6) * module, top + (1 + i / 6) * module, module, 200);
        }

        OpenCvSharp.Cv2.ImEncode(".png", squared, out byte[] png);
        using DecodedPhoto photo = PhotoDecoder.Decode(png).Value;

        Assert.Equal("no-markers", MarkerFinder.CardNumbers(photo.Picture).Refusal?.Code);
        Assert.Equal("no-markers", MarkerFinder.Find(photo.Picture, TestPlans.Engraved().Plan, out _).Refusal?.Code);

        void Paint(int left, int top, int side, int level) =>
            OpenCvSharp.Cv2.Rectangle(
                squared, new OpenCvSharp.Rect(left, top, side, side), new OpenCvSharp.Scalar(level, level, level), thickness: -1);
    }

    [Fact]
    public void The_edges_of_a_marker_are_followed_though_it_was_looked_for_half_a_module_too_far_inside()
    {
        // Marker 48 has a row of bare modules behind its lower border, and a reflection makes them as light as what lies outside.
        Scene scene = new() { Plan = TestPlans.Engraved(number: 12), Glare = new(9, 9, SpreadMm: 4, Strength: 0.3) };

        FollowsAll(scene, (corner, _) => corner - new PlanePoint(0, 6));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    public void The_edges_of_a_marker_are_followed_though_one_side_was_looked_for_along_the_inside_of_its_border(int side)
    {
        // Found at an eighth of the picture, corners are off by some pixels, and a module may have as few.
        FollowsAll(new() { Noise = 0.02 }, (corner, own) =>
        {
            PlanePoint inward = new[] { new PlanePoint(0, 1), new(-1, 0), new(0, -1), new(1, 0) }[side];
            return own == side || own == (side + 1) % 4 ? corner + inward * 11 : corner;
        });
    }

    /// <summary>Follows the edges of all markers from places beside their corners, and holds them to the truth.</summary>
    private static void FollowsAll(Scene scene, Func<PlanePoint, int, PlanePoint> lookedForAt)
    {
        PlanePoint[][] corners =
            [.. scene.Plan.Plan.Fiducials.Markers.Select(marker => new[] { (0, 0), (10, 0), (10, 10), (0, 10) }.Select(corner =>
            {
                (double x, double y) = scene.Camera.ToPhoto(marker.XMm + corner.Item1, marker.YMm + corner.Item2);
                return new PlanePoint(x, y);
            }).ToArray())];
        using DecodedPhoto photo = PhotoOf(scene);

        ValueList<RefinedMarker> refined = MarkerRefiner.Refine(photo.Picture, new MarkerSet(
            [.. corners.Select((seen, place) => new SeenMarker(place, [.. seen.Select(lookedForAt)]))], IsInverted: false, []));

        Assert.Equal(4, refined.Count);
        foreach (RefinedMarker marker in refined)
            Assert.All(marker.Corners.Zip(corners[marker.Place]), pair => Assert.InRange(pair.First.DistanceTo(pair.Second), 0, 0.2));
    }

    private static DecodedPhoto PhotoOf(Scene scene) => PhotoDecoder.Decode(SceneRenderer.Render(scene).ToPng()).Value;

    private static void FindsAll(Scene scene)
    {
        using DecodedPhoto photo = PhotoOf(scene);

        MarkerSet found = MarkerFinder.Find(photo.Picture, scene.Plan.Plan, out _).Value;

        Assert.Equal([0, 1, 2, 3], found.Markers.Select(marker => marker.Place));
        foreach (SeenMarker marker in found.Markers)
        {
            Marker planned = scene.Plan.Plan.Fiducials.Markers[marker.Place];
            (double x, double y) = scene.Camera.ToPhoto(planned.XMm, planned.YMm);
            Assert.InRange(marker.Corners[0].DistanceTo(new(x, y)), 0, 7);
        }
    }

    [Theory]
    [InlineData(0, 0, 0.06)]
    [InlineData(1, 0, 0.06)]
    [InlineData(2, 0, 0.15)]
    [InlineData(1, 0.12, 0.06)]
    public void Refined_corners_are_exact_and_the_bleed_is_told_apart(double blurPx, double bleedMm, double rmsPx)
    {
        Scene scene = new() { BlurPx = blurPx, MarkerBleedMm = bleedMm, Camera = new() { TiltDeg = 8, RollDeg = 3, K1 = -0.01 } };
        using DecodedPhoto photo = PhotoOf(scene);

        MarkerSet found = MarkerFinder.Find(photo.Picture, scene.Plan.Plan, out _).Value;
        ValueList<RefinedMarker> refined = MarkerRefiner.Refine(photo.Picture, found);
        SolvedPose solved = PoseSolver.Solve(photo.Picture, refined, scene.Plan.Plan, focalLength35Mm: 26).Value;

        Assert.Equal(4, refined.Count);
        Assert.InRange(solved.ReprojectionRmsPx, 0, rmsPx);
        Assert.Equal(bleedMm, solved.BleedMm, 0.02);
        Assert.Equal(8, solved.Camera.TiltDeg, 0.3);
        Assert.InRange(solved.BlurPx, 0.8 * blurPx, 1.25 * blurPx + 0.6);
    }
}
