using CardScan.Language;
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
            isHinted, CardPlanner.MachineHints(new() { Name = "m", RatedOpticalWatts = watts, WavelengthNm = wavelength }).Any());

    [Theory]
    [InlineData(6, "feed-slow")]
    [InlineData(599, "feed-slow")]
    [InlineData(600, null)]
    [InlineData(null, null)]
    public void A_fastest_feed_that_looks_like_another_unit_is_asked_about(int? feed, string? code) => Assert.Equal(
        code, CardPlanner.MachineHints(new() { Name = "m", RatedOpticalWatts = 10, FastestFeedMmPerMin = feed }).SingleOrDefault()?.Code);

    [Theory]
    [InlineData("clear acrylic", 455.0, "material-transparent")]
    [InlineData("clear acrylic", null, "material-transparent")]
    [InlineData("clear acrylic", 10_600.0, null)]
    [InlineData("brushed stainless steel", 455.0, "laser-not-taken material-mirror")]
    [InlineData("leather", 455.0, "leather-tanning")]
    [InlineData("birch plywood", 455.0, null)]
    [InlineData("Leder", 455.0, "leather-tanning")]
    [InlineData("Leder, pflanzlich gegerbt", 455.0, null)]
    [InlineData("clear pine", 455.0, null)]
    [InlineData("clear PETG", 455.0, "material-transparent")]
    [InlineData("mirror acrylic", 455.0, "material-mirror")]
    [InlineData("blue-black steel coated paper", 455.0, "material-caution")]
    [InlineData("clear acrylic with black paint", 455.0, "material-caution material-transparent")]
    [InlineData("glass with black paint", 455.0, "material-caution card-long material-transparent")]
    [InlineData("polyester felt", 455.0, "material-caution")]
    [InlineData("the grey stuff", 455.0, "material-unknown")]
    [InlineData("raincoat fabric", 455.0, "material-unknown")]
    public void Materials_that_may_let_the_beam_through_or_throw_it_back_are_hinted_at(
        string material, double? wavelength, string? codes) =>
        Assert.Equal(codes?.Split(' ') ?? [], Codes(Engrave with
        {
            Material = new() { Name = material },
            Machine = Following with { WavelengthNm = wavelength, BeamYMm = null, RatedOpticalWatts = 2 },
        }));

    [Fact]
    public void A_focus_that_was_chosen_for_a_first_cut_is_said_to_rest_on_no_source()
    {
        PlanRequest cut = Cut with { Settings = [.. Cut.Settings, new(Setting.FocusOffsetMm, [-4])] };
        Assert.DoesNotContain("focus-inside", Codes(cut));
        Advice hint = Assert.Single(
            Hints(cut with { Start = new(19, 2.1, StartBasis.Computed, "balance") }), hint => hint.Code == "focus-inside");
        Assert.Contains("4 mm below the surface is common practice", hint.Message, StringComparison.Ordinal);
        Assert.Contains("no source", hint.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void What_a_burned_card_was_planned_by_is_not_called_too_much()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Machine = Following, Settings = [Range(Setting.PowerPercent, "20:95:6"), Range(Setting.SpeedMmPerMin, "10,20")],
        }).Value;
        Assert.Contains(CardPlanner.HintsFor(plan), hint => hint.Code == "cells-overdone");
        Assert.DoesNotContain(CardPlanner.HintsFor(plan, isByBurnedCard: true), hint => hint.Code == "cells-overdone");
    }

    [Fact]
    public void Lines_wider_apart_than_the_beam_are_hinted_at() =>
        Assert.Equal(["lines-apart"], Codes(Engrave with
        {
            Machine = Following,
            Settings = [.. Engrave.Settings, Range(Setting.LineIntervalMm, "0.12")]
        }));

    [Fact]
    public void A_work_area_without_room_to_come_up_to_speed_is_hinted_at()
    {
        PlanRequest tight = Engrave with { Machine = Bench with { AccelerationMmPerS2 = 100, BeamYMm = null } }; // 5000 mm/min takes 35 mm
        Assert.Equal(["card-long", "run-up-short", "beam-switch"], Codes(tight)); // 35 mm at every end of a line take their time
        Assert.Contains("--beam-mode follows-speed (M4)", Hints(tight).Single(hint => hint.Code == "run-up-short").Message,
            StringComparison.Ordinal);
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
        Assert.Matches("about 4 h [0-9]{1,2} min now, 4 h (29|30) min of it", hint.Message);
        Assert.Contains("must not run unattended", hint.Message, StringComparison.Ordinal);
        Advice marks =
            Assert.Single(Hints(Cut with { Mark = new() { PowerPercent = 20, SpeedMmPerMin = 12 } }), hint => hint.Code == "card-long");
        Assert.Contains("for markers and labels at 12 mm/min", marks.Message, StringComparison.Ordinal);
        Assert.Contains("--mark-speed", marks.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_long_card_names_the_cells_that_burn_within_half_an_hour()
    {
        PlanRequest slow = Engrave with
        {
            Machine = Following, Settings = [Range(Setting.PowerPercent, "10:60:6"), Range(Setting.SpeedMmPerMin, "200,250,300,400")],
        };
        Advice hint = Assert.Single(Hints(slow), hint => hint.Code == "card-long");
        double side = ((Number)hint.Values!["cell"]).Value, told = ((Number)hint.Values["smaller"]).Value;
        double really = CardPlanner.Estimate(CardPlanner.MakePlan(slow with { CellSideMm = side }).Value).Seconds;
        Assert.InRange(really, 0.97 * told - 30, Math.Min(1.03 * told + 30, 30 * 60));
        Assert.Contains($"Give --cell {side}", hint.Message, StringComparison.Ordinal);
    }

    // Birch plywood is expected to need about 1 J/mm² to be marked (docs/method/first-card.md); 10 W at 100 % and 300 mm/min with
    // lines 0.1 mm apart bring 20 J/mm².
    [Fact]
    public void Cells_with_far_more_energy_than_is_needed_are_told_with_the_speeds_to_leave_out()
    {
        PlanRequest strong = Engrave with
        {
            Machine = Following, Settings = [Range(Setting.PowerPercent, "20,100"), Range(Setting.SpeedMmPerMin, "300,3000,6000")],
        };
        Advice hint = Assert.Single(Hints(strong), hint => hint.Code == "cells-overdone");
        Assert.Contains("Leave out speeds below 3000 mm/min: 1 cell gets", hint.Message, StringComparison.Ordinal);
        PlanRequest less = strong with { Settings = [Range(Setting.PowerPercent, "20,100"), Range(Setting.SpeedMmPerMin, "3000,6000")] };
        Assert.DoesNotContain("cells-overdone", Codes(less));
    }

    // 13 hours were planned without a word: 10 was meant as mm/s. The weakest energy here is 10 W at 20 %, 20 mm/min, 0.1 mm: 60 J/mm².
    [Fact]
    public void Where_every_cell_gets_far_too_much_the_speed_to_begin_with_is_named_and_the_markers_do_not_follow()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Machine = Following, Settings = [Range(Setting.PowerPercent, "20:95:6"), Range(Setting.SpeedMmPerMin, "10,20")],
        }).Value;
        Advice hint = Assert.Single(CardPlanner.HintsFor(plan), hint => hint.Code == "cells-overdone");
        Assert.Matches("Give speeds from about [0-9]+ mm/min on; if you meant mm/s, write the unit", hint.Message);
        double speed = ((Number)hint.Values!["limit"]).Value;
        PlanRequest faster = Engrave with
        {
            Machine = Following,
            Settings = [Range(Setting.PowerPercent, "20:95:6"), new(Setting.SpeedMmPerMin, [1.1 * speed, 2 * speed])],
        };
        Assert.DoesNotContain("cells-overdone", Codes(faster));
        MarkSetting marks = plan.Burning!.Marks;
        Assert.InRange(10 * marks.PowerPercent / 100 * 60 / (marks.SpeedMmPerMin * marks.LineIntervalMm!.Value), 0.5, 5);
    }

    [Fact]
    public void A_card_that_waits_most_of_its_time_is_told_to_wait_less()
    {
        PlanRequest waiting = Cut with
        {
            Machine = Following, CellPauseS = 60, PassPauseS = 60,
            Settings = [Range(Setting.PowerPercent, "60,80,100"), Range(Setting.SpeedMmPerMin, "1000:3000:5"), Range(Setting.Passes, "2")],
        };
        Advice hint = Assert.Single(Hints(waiting), hint => hint.Code == "card-long");
        Assert.StartsWith("Shorten the pauses", hint.Message, StringComparison.Ordinal);
    }

    [Theory] // What a first card is given for is not called too much.
    [InlineData("birch plywood", Process.Engrave)]
    [InlineData("birch plywood", Process.Cut)]
    [InlineData("anodised aluminium", Process.Engrave)]
    [InlineData("leather, vegetable tanned", Process.Engrave)]
    [InlineData("paper", Process.Cut)]
    public void A_first_card_does_not_find_fault_with_itself(string material, Process process)
    {
        Material of = new() { Name = material, ThicknessMm = 1 };
        Start start = CardPlanner.StartFor(new() { Process = process, Material = of, Machine = Following }).Value;
        PlanRequest first = new()
        {
            Process = process, Material = of, Machine = Following, Settings = start.Settings, Start = start.Energy,
        };
        Assert.DoesNotContain("cells-overdone", Codes(first));
    }

    [Theory]
    [InlineData("birch plywood", 3, true)]
    [InlineData("birch plywood", 6, false)]
    [InlineData("anodised aluminium", 3, false)]
    public void Gaps_into_which_char_may_reach_are_hinted_at_on_material_that_chars(string material, double gap, bool isHinted)
    {
        PlanRequest request = Engrave with
        {
            Material = new() { Name = material }, CellSideMm = 4, GapMm = gap, MarkerSideMm = 6,
            Settings = [Range(Setting.PowerPercent, "20:90:5"), Range(Setting.SpeedMmPerMin, "1500:5000:4")],
        };
        Assert.Equal(isHinted, Codes(request).Contains("gap-narrow"));
    }

    [Fact] // 4032 x 3024 px, four fifths filled: 0.8 * 3024 / 260 = 9.3 px/mm
    public void A_card_too_large_for_a_phone_is_hinted_at()
    {
        PlanRequest large = Engrave with { Card = new() { WidthMm = 300, HeightMm = 260 } };
        Assert.Equal(["card-large"], Codes(large));
        Assert.Equal(0.8 * 3024 / 260, CardPlanner.PhotoPxPerMm(large.Card!), 1e-9);
    }

    private static Machine Following => Bench with { BeamMode = BeamMode.FollowsSpeed };

    private static string[] Codes(PlanRequest request) => [.. Hints(request).Select(hint => hint.Code)];

    private static ValueList<Advice> Hints(PlanRequest request) => CardPlanner.HintsFor(CardPlanner.MakePlan(request).Value);
}
