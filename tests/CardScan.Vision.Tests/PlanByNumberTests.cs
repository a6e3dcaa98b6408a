using CardScan.Model;

namespace CardScan.Vision.Tests;

/// <summary>An open photo tells the numbers of the cards that it shows before any plan is at hand.</summary>
public sealed class PlanByNumberTests
{
    [Theory]
    [InlineData("birch-engrave")]
    [InlineData("coated-metal-engrave")] // markers lighter than the material
    public void The_number_in_the_photo_asks_for_the_plan(string name)
    {
        PlanFile plan = CardJson.ReadPlan(File.ReadAllBytes(PhotoFiles.Fixture($"{name}.plan.json"))).Value;

        byte[] bytes = File.ReadAllBytes(PhotoFiles.Fixture($"{name}.jpg"));
        using OpenPhoto photo = CardReader.Open(new("photo", bytes)).Value;

        Assert.Equal([plan.Plan.Number], photo.CardNumbers);
        Assert.Equal(CardJson.Sha256(bytes), photo.Sha256);
    }

    [Fact]
    public void A_picture_without_markers_is_not_opened() =>
        Assert.Equal(
            "no-markers", CardReader.Open(new("photo", PhotoFiles.Squares([[new(200, 200, 200), new(190, 190, 190)]]))).Refusal!.Code);

    [Fact]
    public void Measuring_twice_gives_the_same()
    {
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(PhotoFiles.Fixture("birch-engrave.plan.json"))).Value.Plan;
        using OpenPhoto photo = CardReader.Open(new("photo", File.ReadAllBytes(PhotoFiles.Fixture("birch-engrave.jpg")))).Value;

        Assert.Equal(photo.Measure(plan, new()).Value.Record, photo.Measure(plan, new()).Value.Record);
    }
}
