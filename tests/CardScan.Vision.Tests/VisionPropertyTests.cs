using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using CsCheck;

namespace CardScan.Vision.Tests;

public sealed class VisionPropertyTests
{
    private static readonly Gen<TestCamera> CamerasInReach =
        Gen.Select(Gen.Double[0, 50], Gen.Double[0, 360], Gen.Double[120, 600], Gen.Double[-0.05, 0.05])
            .Select((tilt, roll, distance, k1) => new TestCamera { TiltDeg = tilt, RollDeg = roll, DistanceMm = distance, K1 = k1 });

    [Fact]
    public void Any_pose_in_reach_maps_card_to_photo_and_back() =>
        Gen.Select(CamerasInReach, Gen.Double[0, 120], Gen.Double[0, 100]).Sample((camera, x, y) =>
        {
            CardPose pose = PoseOf(camera);
            (double seenX, double seenY) = camera.ToPhoto(x, y);

            PlanePoint photo = pose.ToPhoto(new(x, y));
            PlanePoint back = pose.ToCard(photo);

            return photo.DistanceTo(new(seenX, seenY)) < 1e-5 && back.DistanceTo(new(x, y)) < 1e-6;
        });

    [Fact]
    public void Exposure_and_white_balance_leave_darkness_as_it_is()
    {
        Scene scene = new() { Grain = 0.03, Camera = new() { TiltDeg = 6 } };
        LinearPicture picture = SceneRenderer.Render(scene);
        ValueList<CellReading> before = Photographed.Read(picture.ToPng(), scene.Plan).Value.Reading.Cells;
        // 0.9 keeps all channels below the top of the scale.
        double most = 0.9 / picture.Brightest;

        Gen.Double[0.35, 1].Array[3].Sample(
            gains =>
            {
                byte[] photo = picture.Gained(most * gains[0], most * gains[1], most * gains[2]).ToPng();
                ValueList<CellReading> after = Photographed.Read(photo, scene.Plan).Value.Reading.Cells;
                for (int i = 0; i < before.Count; i++)
                    Assert.Equal(before[i].Darkness!.Value, after[i].Darkness!.Value, before[i].Darkness!.StandardError);
            },
            iter: 12, threads: 1);
    }

    private static CardPose PoseOf(TestCamera camera)
    {
        PlanePoint[] corners = [new(0, 0), new(120, 0), new(120, 100), new(0, 100)];
        TestCamera ideal = camera with { K1 = 0 };
        Homography toIdeal = Homography.Fit(corners, [.. corners.Select(corner =>
        {
            (double x, double y) = ideal.ToPhoto(corner.X, corner.Y);
            return new PlanePoint(x, y);
        })]);
        return new(toIdeal, new RadialDistortion(new(799.5, 599.5), 1000, camera.K1));
    }
}
