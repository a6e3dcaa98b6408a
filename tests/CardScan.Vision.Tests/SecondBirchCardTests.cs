using CardScan.Model;
using CardScan.Vision.Tests.Rendering;

namespace CardScan.Vision.Tests;

/// <summary>The demo's second batch, as shipped.</summary>
public sealed class SecondBirchCardTests
{
    private static PlanFile Plan => CardJson.ReadPlan(Bytes("plan.json")).Value;

    [Fact]
    public void The_shipped_photo_is_the_one_that_is_rendered_here() =>
        ShippedPhoto.AssertIs(Bytes("birch-second.jpg"), SceneRenderer.Render(SecondBirchCard.Seen(Plan)).ToJpeg(SecondBirchCard.Quality));

    [Fact]
    public void Its_cells_are_read_as_dark_as_they_were_made()
    {
        Scene scene = SecondBirchCard.Seen(Plan);
        Reading reading =
            OneCard.Read([new PhotoFile("birch-second.jpg", Bytes("birch-second.jpg"))], Plan, new VisionOptions()).Value.Reading;

        Assert.Empty(reading.Photos[0].Warnings);
        Assert.All(
            reading.Plan.Cells.Zip(reading.Cells), pair => Assert.Equal(scene.Darkness(pair.First), pair.Second.Darkness!.Value, 0.03));
    }

    private static byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(SecondBirchCard.Folder, name));
}
