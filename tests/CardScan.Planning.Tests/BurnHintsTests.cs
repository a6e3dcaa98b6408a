using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class BurnHintsTests
{
    [Theory]
    [InlineData(10, 455.0, false)]
    [InlineData(20, 455.0, false)]
    [InlineData(40, 455.0, true)]
    [InlineData(80, null, true)]
    [InlineData(80, 10_600.0, false)]
    [InlineData(60, 1064.0, false)]
    public void Watts_that_would_take_more_diodes_than_usual_are_asked_about(double watts, double? wavelength, bool isHinted) =>
        Assert.Equal(isHinted, CardPlanner.WattsHint(new() { Name = "m", RatedOpticalWatts = watts, WavelengthNm = wavelength }) is not null);

    [Theory]
    [InlineData("clear acrylic", 455.0, "material-transparent")]
    [InlineData("clear acrylic", null, "material-transparent")]
    [InlineData("clear acrylic", 10_600.0, null)]
    [InlineData("brushed stainless steel", 455.0, "material-mirror")]
    [InlineData("leather", 455.0, "leather-tanning")]
    [InlineData("birch plywood", 455.0, null)]
    public void Materials_that_may_let_the_beam_through_or_throw_it_back_are_hinted_at(string material, double? wavelength, string? code) =>
        Assert.Equal(code is null ? [] : [code], Codes(Engrave with { Material = new() { Name = material }, Machine = Bench with { WavelengthNm = wavelength, BeamYMm = null } }));

    [Fact]
    public void Lines_wider_apart_than_the_beam_are_hinted_at() =>
        Assert.Equal(["lines-apart"], Codes(Engrave with { Machine = Bench, Settings = [.. Engrave.Settings, Range(Setting.LineIntervalMm, "0.12")] }));

    [Fact]
    public void A_work_area_without_room_to_come_up_to_speed_is_hinted_at()
    {
        PlanRequest tight = Engrave with { Machine = Bench with { AccelerationMmPerS2 = 100, BeamYMm = null } }; // 5000 mm/min takes 35 mm
        Assert.Equal(["run-up-short"], Codes(tight));
        Assert.Empty(Codes(tight with { Machine = tight.Machine with { BeamMode = BeamMode.FollowsSpeed } }));
    }

    [Fact] // 4032 x 3024 px, four fifths filled: 0.8 * 3024 / 260 = 9.3 px/mm
    public void A_card_too_large_for_a_phone_is_hinted_at()
    {
        PlanRequest large = Engrave with { Card = new() { WidthMm = 300, HeightMm = 260 } };
        Assert.Equal(["card-large"], Codes(large));
        Assert.Equal(0.8 * 3024 / 260, CardPlanner.PhotoPxPerMm(large.Card!), 1e-9);
    }

    private static string[] Codes(PlanRequest request) => [.. CardPlanner.HintsFor(CardPlanner.MakePlan(request).Value).Select(hint => hint.Code)];
}
