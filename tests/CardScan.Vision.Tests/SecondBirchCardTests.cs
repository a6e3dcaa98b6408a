using CardScan.Model;
using CardScan.Vision.Tests.Rendering;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.PixelFormats;

namespace CardScan.Vision.Tests;

/// <summary>The demo's second batch, as shipped.</summary>
public sealed class SecondBirchCardTests
{
    private static PlanFile Plan => CardJson.ReadPlan(Bytes("plan.json")).Value;

    [Fact]
    public void The_shipped_photo_is_the_one_that_is_rendered_here()
    {
        byte[] made = SceneRenderer.Render(SecondBirchCard.Seen(Plan)).ToJpeg(SecondBirchCard.Quality);
        using Image<L8> shipped = Image.Load<L8>(Bytes("birch-second.jpg"));
        using Image<L8> rendered = Image.Load<L8>(made);

        Assert.Equal((shipped.Width, shipped.Height), (rendered.Width, rendered.Height));
        double apart = 0;
        for (int y = 0; y < shipped.Height; y++)
            for (int x = 0; x < shipped.Width; x++) apart += Math.Abs(shipped[x, y].PackedValue - rendered[x, y].PackedValue);
        Assert.InRange(apart / (shipped.Width * shipped.Height), 0, 0.5);
    }

    [Fact]
    public void Its_cells_are_read_as_dark_as_they_were_made()
    {
        Scene scene = SecondBirchCard.Seen(Plan);
        Reading reading = CardReader.Read([new PhotoFile("birch-second.jpg", Bytes("birch-second.jpg"))], Plan, new VisionOptions()).Value.Reading;

        Assert.Empty(reading.Photos[0].Warnings);
        Assert.All(reading.Plan.Cells.Zip(reading.Cells), pair => Assert.Equal(scene.Darkness(pair.First), pair.Second.Darkness!.Value, 0.03));
    }

    private static byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(SecondBirchCard.Folder, name));
}
