using CardScan.Model;

namespace CardScan.Vision.Tests;

/// <summary>A photo read without its plan: the number in the markers asks for it.</summary>
public sealed class PlanByNumberTests
{
    [Theory]
    [InlineData("birch-engrave")]
    [InlineData("coated-metal-engrave")] // markers lighter than the material
    public void The_number_in_the_photo_asks_for_the_plan_and_the_reading_is_the_same_as_with_it(string name)
    {
        PhotoFile[] photo = [new PhotoFile("photo", File.ReadAllBytes(PhotoFiles.Fixture($"{name}.jpg")))];
        PlanFile plan = CardJson.ReadPlan(File.ReadAllBytes(PhotoFiles.Fixture($"{name}.plan.json"))).Value;
        ValueList<int> asked = [];

        Reading reading = CardReader.Read(photo, numbers =>
        {
            asked = numbers;
            return plan;
        }, new VisionOptions()).Value.Reading;

        Assert.Equal([plan.Plan.Number], asked);
        Assert.Equal(CardReader.Read(photo, plan, new VisionOptions()).Value.Reading, reading);
    }

    [Fact]
    public void A_plan_that_is_refused_refuses_the_photo_in_its_own_words()
    {
        PhotoFile[] photo = [new PhotoFile("photo", File.ReadAllBytes(PhotoFiles.Fixture("birch-engrave.jpg")))];
        Refusal refusal = Refusal.OfInput("none", "seen", "remedy");
        Assert.Equal(refusal.In("photo"), CardReader.Read(photo, _ => refusal, new VisionOptions()).Refusal);
    }

    [Fact]
    public void A_picture_without_markers_asks_for_no_plan()
    {
        PhotoFile[] photo = [new PhotoFile("photo", PhotoFiles.Squares([[new(200, 200, 200), new(190, 190, 190)]]))];
        Refusal refusal = CardReader.Read(photo, _ => throw new InvalidOperationException(), new VisionOptions()).Refusal!;
        Assert.Equal("no-markers", refusal.Code);
        Assert.StartsWith("photo: ", refusal.Seen, StringComparison.Ordinal);
    }
}
