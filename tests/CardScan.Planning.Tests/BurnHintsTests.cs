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
        Assert.Equal(
            isHinted, CardPlanner.WattsHint(new() { Name = "m", RatedOpticalWatts = watts, WavelengthNm = wavelength }) is not null);

    [Theory]
    [InlineData("clear acrylic", 455.0, "material-transparent")]
    [InlineData("clear acrylic", null, "material-transparent")]
    [InlineData("clear acrylic", 10_600.0, null)]
    [InlineData("brushed stainless steel", 455.0, "laser-not-taken material-mirror")]
    [InlineData("leather", 455.0, "leather-tanning")]
    [InlineData("birch plywood", 455.0, null)]
    public void Materials_that_may_let_the_beam_through_or_throw_it_back_are_hinted_at(
        string material, double? wavelength, string? codes) =>
        Assert.Equal(codes?.Split(' ') ?? [], Codes(Engrave with
        {
            Material = new() { Name = material },
            Machine = Bench with { WavelengthNm = wavelength, BeamYMm = null },
        }));

    [Fact]
    public void Lines_wider_apart_than_the_beam_are_hinted_at() =>
        Assert.Equal(["lines-apart"], Codes(Engrave with
        {
            Machine = Bench,
            Settings = [.. Engrave.Settings, Range(Setting.LineIntervalMm, "0.12")]
        }));

    [Fact]
    public void A_work_area_without_room_to_come_up_to_speed_is_hinted_at()
    {
        PlanRequest tight = Engrave with { Machine = Bench with { AccelerationMmPerS2 = 100, BeamYMm = null } }; // 5000 mm/min takes 35 mm
        Assert.Equal(["card-long", "run-up-short"], Codes(tight)); // 35 mm at every end of a line take their time
        Assert.DoesNotContain("run-up-short", Codes(tight with { Machine = tight.Machine with { BeamMode = BeamMode.FollowsSpeed } }));
    }

    [Fact]
    public void A_run_up_on_a_machine_of_unknown_room_is_not_called_too_short()
    {
        // 40.8 mm at 500 mm/s²
        PlanRequest fast = Engrave with { Settings = [Range(Setting.PowerPercent, "20:95:6"), Range(Setting.SpeedMmPerMin, "12120")] };
        Advice hint = Assert.Single(Hints(fast));
        Assert.Equal("run-up-unknown", hint.Code);
        Assert.Contains("needs 40.8 mm", hint.Message, StringComparison.Ordinal);
        Assert.Contains("neither its work area nor its fastest safe feed is known", hint.Message, StringComparison.Ordinal);
        Advice feedKnown = Assert.Single(Hints(fast with { Machine = fast.Machine with { FastestFeedMmPerMin = 20_000 } }));
        Assert.Contains("and its work area is not known", feedKnown.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_without_the_thickness_is_hinted_at_before_it_is_burned_in_vain()
    {
        PlanRequest untold = Cut with { Material = new() { Name = "birch plywood" } };
        Assert.Equal(["cut-thickness-untold"], Codes(untold));
        Assert.Empty(Codes(untold with { Process = Process.Engrave }));
        Assert.DoesNotContain("cut-thickness-untold", Codes(Cut));
    }

    // By hand: 80 lines of 8 mm and twice 0.2 mm of run-up, 672 mm, at 50 mm/min are 13.4 min a cell; 20 of them 4 h 29
    // min, and a little for the ways.
    [Fact]
    public void A_card_that_takes_hours_is_told_with_what_takes_them()
    {
        PlanRequest slow = Engrave with
        {
            Machine = Bench with { BeamYMm = null },
            Settings = [Range(Setting.PowerPercent, "5:100:20"), Range(Setting.SpeedMmPerMin, "50,1000")]
        };
        Advice hint = Assert.Single(Hints(slow), hint => hint.Code == "card-long");
        Assert.Contains("of it for the 20 cells at 50 mm/min", hint.Message, StringComparison.Ordinal);
        Assert.Matches("about 4 h [0-9]{1,2} min, 4 h (29|30) min of it", hint.Message);
        Assert.Contains("must not run unattended", hint.Message, StringComparison.Ordinal);
        Advice marks =
            Assert.Single(Hints(Cut with { Mark = new() { PowerPercent = 20, SpeedMmPerMin = 12 } }), hint => hint.Code == "card-long");
        Assert.Contains("for markers and labels at 12 mm/min", marks.Message, StringComparison.Ordinal);
        Assert.Contains("--mark-speed", marks.Message, StringComparison.Ordinal);
    }

    [Fact] // 4032 x 3024 px, four fifths filled: 0.8 * 3024 / 260 = 9.3 px/mm
    public void A_card_too_large_for_a_phone_is_hinted_at()
    {
        PlanRequest large = Engrave with { Card = new() { WidthMm = 300, HeightMm = 260 } };
        Assert.Equal(["card-large"], Codes(large));
        Assert.Equal(0.8 * 3024 / 260, CardPlanner.PhotoPxPerMm(large.Card!), 1e-9);
    }

    private static string[] Codes(PlanRequest request) => [.. Hints(request).Select(hint => hint.Code)];

    private static ValueList<Advice> Hints(PlanRequest request) => CardPlanner.HintsFor(CardPlanner.MakePlan(request).Value);
}
