using CardScan.Language;
using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

/// <summary>Air, focus steps and pauses; files for controllers without a laser mode.</summary>
public class PassesTests
{
    private static PlanRequest TwoPasses => Cut with
    {
        Machine = Bench,
        Settings = [Range(Setting.PowerPercent, "60,100"), Range(Setting.SpeedMmPerMin, "200,300"), Range(Setting.Passes, "2")],
    };

    private static Machine Lifted => Bench with { PoweredZ = new() { LowestMm = -4, HighestMm = 10 } };

    [Theory] // M7, M8 and M9: NISTIR 6556, 3.6.4.
    [InlineData(AirSwitch.M7, 7)]
    [InlineData(AirSwitch.M8, 8)]
    public void Air_that_the_controller_switches_is_on_before_the_first_mark_and_off_after_the_last(AirSwitch word, int code)
    {
        AirAssist air = new() { IsOn = true, Pressure = "0.5 bar" };
        NgcRun run = Run(TwoPasses with { Machine = Bench with { AirSwitch = word }, AirAssist = air });
        Assert.Equal([(code, 0), (9, run.Motions.Count)], run.Air);
        Assert.Contains("AIR ASSIST: on <0.5 bar>", run.Comments);
    }

    [Fact]
    public void Air_that_a_hand_switches_is_asked_for_at_the_head_of_the_file()
    {
        NgcRun run = Run(TwoPasses with { AirAssist = new() { IsOn = true } });
        Assert.Empty(run.Air);
        Assert.Contains("AIR ASSIST: on. Switch it on by hand before you start", run.Comments);
    }

    [Fact]
    public void Air_that_is_to_stay_off_is_switched_off_and_air_that_nobody_spoke_of_is_left_alone()
    {
        Machine switched = Bench with { AirSwitch = AirSwitch.M8 };
        Assert.All(Run(TwoPasses with { Machine = switched, AirAssist = new() { IsOn = false } }).Air, air => Assert.Equal(9, air.Code));
        Assert.Empty(Run(TwoPasses with { Machine = switched }).Air);
    }

    [Fact]
    public void The_focus_goes_down_a_step_with_each_pass_over_every_cell()
    {
        PlanRequest request = TwoPasses with { Machine = Lifted, FocusStepMm = 1.5 };
        NgcRun run = Run(request);
        Assert.Equal(1.5, CardPlanner.MakePlan(request).Value.Fixed.FocusStepMm);
        Assert.Equal([0, -1.5], run.Motions.Where(motion => motion.IsBurning).Select(motion => motion.From.Z).Distinct());
    }

    [Fact]
    public void A_step_that_the_machine_cannot_reach_is_refused_with_its_depth()
    {
        Refusal refusal = CardPlanner.MakePlan(TwoPasses with { Machine = Lifted, FocusStepMm = 5 }).Refusal!;
        Assert.Equal("machine-focus", refusal.Code);
        Assert.Contains("-5 mm", refusal.Told(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_focus_stepped_by_hand_counts_its_stops_in_the_time()
    {
        BurnEstimate still = CardPlanner.Estimate(CardPlanner.MakePlan(TwoPasses).Value);
        Plan plan = CardPlanner.MakePlan(TwoPasses with { FocusStepMm = 1 }).Value;
        BurnEstimate stepped = CardPlanner.Estimate(plan);
        // Four cells, each: down and up to the second pass, then up to the next cell's first or to the surface.
        Assert.Equal((0, 12), (still.HandStops, stepped.HandStops));
        Assert.Equal(still.Seconds + 12 * 30, stepped.Seconds, 1e-6);
        Assert.Contains("stops 12 times", string.Join(' ', Run(plan).Comments), StringComparison.Ordinal);
    }

    [Fact] // G4: NISTIR 6556, 3.5.4: P is a number of seconds.
    public void Pauses_are_dwells_between_passes_and_before_cells_and_count_in_the_time()
    {
        PlanRequest request = TwoPasses with { PassPauseS = 3, CellPauseS = 10 };
        NgcRun run = Run(request);
        Assert.Equal((4, 3), (run.DwellsS.Count(s => s == 3), run.DwellsS.Count(s => s == 10)));
        double without = CardPlanner.Estimate(CardPlanner.MakePlan(TwoPasses).Value).Seconds;
        Assert.Equal(without + 4 * 3 + 3 * 10, CardPlanner.Estimate(CardPlanner.MakePlan(request).Value).Seconds, 1e-6);
    }

    [Fact]
    public void Steps_and_pauses_between_passes_want_more_than_one_pass()
    {
        PlanRequest once = Cut with { Machine = Bench };
        Assert.Contains("--focus-step", CardPlanner.MakePlan(once with { FocusStepMm = 1 }).Refusal!.Told(), StringComparison.Ordinal);
        Assert.Contains("--pass-pause", CardPlanner.MakePlan(once with { PassPauseS = 1 }).Refusal!.Told(), StringComparison.Ordinal);
        Assert.Contains("0 to 20 mm", CardPlanner.MakePlan(TwoPasses with { FocusStepMm = 21 }).Refusal!.Told(), StringComparison.Ordinal);
        Assert.Equal("plan-value", CardPlanner.MakePlan(TwoPasses with { CellPauseS = 601 }).Refusal!.Code);
        Assert.Equal("plan-value", CardPlanner.MakePlan(Ladder with { FocusStepMm = 1 }).Refusal!.Code);
    }

    [Fact]
    public void Power_never_changes_while_a_machine_without_a_laser_mode_moves()
    {
        Plan plan = CardPlanner.MakePlan(Cut with { TabsPerSide = 1, Machine = Bench with { BeamMode = BeamMode.FromRest } }).Value;
        string file = CardPlanner.WriteMachineFile(plan).Value;
        ReplayCheck.Holds(plan, file);
        string[] lines = file.Split('\n');
        Assert.DoesNotContain(lines, line => line.StartsWith("G1", StringComparison.Ordinal) && line.Contains('S'));
        Assert.Contains(lines, line => line.StartsWith("M3 S", StringComparison.Ordinal) && line != "M3 S0");
    }

    [Fact] // By hand: 3000 mm/min are 50 mm/s; a line of 8 mm takes 8 / 50 + 50 / 500 s instead of 8 / 50: 62.5 % more.
    public void Lines_from_rest_get_more_energy_than_their_setting_says_and_the_plan_tells_how_much()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Machine = Bench with { BeamMode = BeamMode.FromRest, AccelerationMmPerS2 = 500 },
            Settings = [Range(Setting.PowerPercent, "50,100"), Range(Setting.SpeedMmPerMin, "600,3000")],
        }).Value;
        Advice hint = Assert.Single(CardPlanner.HintsFor(plan), hint => hint.Code == "line-ends");
        Assert.Equal(0.625, ((Number)hint.Values!["excess"]).Value, 1e-3);
        double planned = plan.SettingsOf(plan.Cells[^1]).DoseOf(Process.Engrave, 10)!.Value * 64;
        Assert.Equal(1.625, CardPlanner.Estimate(plan).Cells[^1].Joules / planned, 1e-3);
    }

    [Fact]
    public void A_file_for_M3_tells_what_it_costs_where_the_laser_mode_is_off()
    {
        Advice hint = Assert.Single(CardPlanner.HintsFor(CardPlanner.MakePlan(Engrave with { Machine = Bench }).Value),
            hint => hint.Code == "beam-switch");
        Assert.True(((Number)hint.Values!["stopped"]).Value > 1.1 * ((Number)hint.Values!["time"]).Value);
        Machine following = Bench with { BeamMode = BeamMode.FollowsSpeed };
        Assert.DoesNotContain(CardPlanner.HintsFor(CardPlanner.MakePlan(Engrave with { Machine = following }).Value),
            other => other.Code is "beam-switch" or "line-ends");
    }

    [Fact] // Common controllers act on these at once, also inside comments (from memory).
    public void Comments_have_no_letters_that_controllers_act_on()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Machine = Bench with { Name = "Müller's ~Łaser~!" }, Title = "Größe? Że! × 2 · фанера 木",
        }).Value;
        string file = CardPlanner.WriteMachineFile(plan).Value;
        Assert.True(file.AsSpan().IndexOfAny("!?~") < 0);
        Assert.True(file.All(c => c is '\n' or (>= ' ' and < '~')));
        Assert.Contains("Muller's -Laser-.", file, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("0.0001", "machine-lines")] // 80 million lines and an endless run once
    [InlineData("0.00001", "machine-lines")]
    [InlineData("0.024", "machine-lines")] // a quarter of the 0.1 mm beam is 0.025 mm
    [InlineData("0.025", null)]
    public void Lines_are_no_closer_than_a_quarter_of_the_beam(string interval, string? code)
    {
        PlanRequest request = Engrave with { Machine = Bench, Settings = [.. Engrave.Settings, Range(Setting.LineIntervalMm, interval)] };
        Assert.Equal(code, CardPlanner.MakePlan(request).Refusal?.Code);
    }

    [Fact]
    public void A_file_of_more_than_20_megabytes_is_refused_before_it_is_made()
    {
        PlanRequest request = Engrave with
        {
            Machine = Bench, CellSideMm = 20,
            Settings = [.. Engrave.Settings, Range(Setting.LineIntervalMm, "0.025"), Range(Setting.Passes, "20")],
        };
        Refusal refusal = CardPlanner.MakePlan(request).Refusal!;
        Assert.Equal("machine-file-size", refusal.Code);
        Assert.Contains("20 MB", refusal.Told(), StringComparison.Ordinal);
    }

    private static NgcRun Run(PlanRequest request) => Run(CardPlanner.MakePlan(request).Value);

    private static NgcRun Run(Plan plan) => ReplayCheck.Holds(plan, CardPlanner.WriteMachineFile(plan).Value);
}
