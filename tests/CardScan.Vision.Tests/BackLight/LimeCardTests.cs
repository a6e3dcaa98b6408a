using CardScan.Model;

namespace CardScan.Vision.Tests.BackLight;

/// <summary>The demo's cut card, as shipped.</summary>
public sealed class LimeCardTests
{
    private static PlanFile Plan => CardJson.ReadPlan(Bytes("plan.json")).Value;

    [Fact]
    public void The_shipped_front_lit_photo_is_the_one_that_is_rendered_here() =>
        ShippedPhoto.AssertIs(Bytes("lime-cut-front.jpg"), BackLitPhotos.Jpeg(LimeCard.FrontLit(Plan), quality: LimeCard.Quality));

    [Fact]
    public void Its_three_photos_judge_every_side_and_tell_the_char()
    {
        Reading reading = Read("lime-cut-front.jpg", "lime-cut-left.jpg", "lime-cut-right.jpg");

        Assert.Equal([Light.Front, Light.Back, Light.Back], reading.Photos.Select(photo => photo.Light));
        Assert.DoesNotContain(reading.Cells, cell => cell.Through == Opening.Unseen);
        Assert.All(reading.Cells, cell => Assert.NotNull(cell.HaloMm));
        // True means of the open sides, known from the scene that the back-lit photos were rendered from.
        Assert.Equal(0.354, reading.Kerf!.AcrossXMm!.Value, 2 * reading.Kerf.AcrossXMm.StandardError);
        Assert.Equal(0.303, reading.Kerf.AcrossYMm!.Value, 2 * reading.Kerf.AcrossYMm.StandardError);
    }

    [Fact]
    public void Its_two_views_complete_each_other()
    {
        int left = Unseen(Read("lime-cut-left.jpg")), right = Unseen(Read("lime-cut-right.jpg")),
            both = Unseen(Read("lime-cut-left.jpg", "lime-cut-right.jpg"));

        Assert.True(both < Math.Min(left, right), $"{left} and {right} unseen alone, {both} together");
    }

    private static byte[] Bytes(string name) => File.ReadAllBytes(Path.Combine(LimeCard.Folder, name));

    private static Reading Read(params string[] photos) =>
        OneCard.Read([.. photos.Select(name => new PhotoFile(name, Bytes(name)))], Plan, new VisionOptions()).Value.Reading;

    private static int Unseen(Reading reading) =>
        reading.Cells.Sum(cell =>
            new[] { cell.Sides!.Left, cell.Sides.Right, cell.Sides.Top, cell.Sides.Bottom }.Count(side => side.State == SideState.Unseen));
}
