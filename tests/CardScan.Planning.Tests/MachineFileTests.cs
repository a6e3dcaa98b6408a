using CardScan.Language;
using CardScan.Model;
using CsCheck;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class MachineFileTests
{
    [Fact]
    public void An_engraved_card_is_burned_as_planned() => Replayed(Engrave);

    [Fact]
    public void A_cut_card_is_burned_as_planned_and_its_tabs_are_left()
    {
        Plan plan = CardPlanner.MakePlan(Cut with { TabsPerSide = 2, TabMm = 0.4, Machine = Bench }).Value;
        Assert.All(plan.Cells, cell => Assert.Equal(8, cell.Tabs!.Count));
        ReplayCheck.Holds(plan, CardPlanner.WriteMachineFile(plan).Value);
    }

    [Fact]
    public void A_focus_ladder_without_a_powered_Z_stops_before_every_new_focus_over_the_next_bare_place_and_says_how_far_to_turn()
    {
        Plan plan = CardPlanner.MakePlan(Ladder).Value;
        NgcRun run = ReplayCheck.Holds(plan, CardPlanner.WriteMachineFile(plan).Value);
        Assert.Equal(8, run.Pauses.Count);
        Assert.Equal("MSG, FOCUS 1 mm UP: NOW 1 mm BELOW THE SURFACE. THEN RESUME", run.Messages[2]);
        Assert.Equal("MSG, FOCUS 1 mm UP: NOW ON THE SURFACE. THEN RESUME", run.Messages[3]);
        double[] focus = [.. plan.Burning!.Order.Select(i => plan.SettingsOf(plan.Cells[i]).FocusOffsetMm)];
        Assert.Equal(focus.Order(), focus);
        Assert.All(run.Pauses.SkipLast(2), pause => Assert.Contains(plan.Cells, cell =>
            pause.At.X >= cell.XMm - 5 && pause.At.X <= cell.XMm + cell.WidthMm + 5
            && plan.Card.HeightMm - pause.At.Y >= cell.YMm - 5 && plan.Card.HeightMm - pause.At.Y <= cell.YMm + cell.HeightMm + 5));
    }

    [Fact]
    public void A_screw_turned_by_hand_comes_up_to_every_offset_and_back_to_the_surface_at_the_end()
    {
        NgcRun run = NgcReader.Run(CardPlanner.WriteMachineFile(CardPlanner.MakePlan(Ladder).Value).Value);
        Assert.Equal("MSG, FOCUS 2.5 mm DOWN: NOW 2.5 mm BELOW THE SURFACE. THEN RESUME", run.Messages[0]);
        Assert.Equal("MSG, FOCUS 0.5 mm UP: NOW 2 mm BELOW THE SURFACE. THEN RESUME", run.Messages[1]);
        Assert.Equal(
            ["MSG, FOCUS 2.5 mm DOWN: NOW 0.5 mm BELOW THE SURFACE. THEN RESUME", "MSG, FOCUS 0.5 mm UP: NOW ON THE SURFACE. THEN RESUME"],
            run.Messages.TakeLast(2));
        Assert.All(run.Pauses.TakeLast(2), pause => Assert.Equal((0.0, 0.0), (pause.At.X, pause.At.Y)));
        Assert.True(run.HasEnded);
    }

    [Fact]
    public void A_powered_Z_sets_the_focus_itself_and_goes_back_to_the_surface()
    {
        Plan plan = CardPlanner.MakePlan(Ladder with { Machine = Bench with { PoweredZ = new() { LowestMm = -3, HighestMm = 10 } } }).Value;
        NgcRun run = ReplayCheck.Holds(plan, CardPlanner.WriteMachineFile(plan).Value);
        Assert.Empty(run.Pauses);
        Assert.Equal(0, run.Motions[^1].To.Z);
        Assert.Equal([-2.0, -1, 0, 1, 2], run.Motions.Where(motion => motion.IsBurning).Select(motion => motion.From.Z).Distinct().Order());
    }

    [Fact]
    public void A_cut_with_its_focus_below_the_surface_asks_for_it_before_the_first_mark()
    {
        Plan plan =
            CardPlanner.MakePlan(Cut with { Machine = Bench, Settings = [.. Cut.Settings, Range(Setting.FocusOffsetMm, "-1.5")] }).Value;
        string file = CardPlanner.WriteMachineFile(plan).Value;
        Assert.Equal(
            [
                "MSG, FOCUS 2 mm DOWN: NOW 2 mm BELOW THE SURFACE. THEN RESUME",
                "MSG, FOCUS 0.5 mm UP: NOW 1.5 mm BELOW THE SURFACE. THEN RESUME",
                "MSG, FOCUS 1.5 mm UP: NOW ON THE SURFACE. THEN RESUME",
            ],
            ReplayCheck.Holds(plan, file).Messages);
        Assert.True(file.IndexOf("\nM0", StringComparison.Ordinal) < file.IndexOf("\nM3", StringComparison.Ordinal));
    }

    [Fact]
    public void The_head_of_the_file_tells_card_time_place_and_cautions_for_the_wavelength()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Machine = Bench, AcceptedRisk = null }).Value;
        string[] comments = [.. NgcReader.Run(CardPlanner.WriteMachineFile(plan).Value).Comments];
        string head = string.Join(" ", comments);
        Assert.Contains("CARD 17", head, StringComparison.Ordinal);
        Assert.Contains("rated for 455 nm (EN 207 or ANSI Z136.1)".Replace('(', '<').Replace(')', '>'), head, StringComparison.Ordinal);
        Assert.Contains("lower left corner of the 118 x 104 mm card lies at X0 Y0", head, StringComparison.Ordinal);
        Assert.Contains($"TIME: about {Voice.Tell(CardPlanner.Estimate(plan).Time)}", head, StringComparison.Ordinal);
        Assert.All(comments, comment => Assert.True(comment.Length <= 68));
    }

    [Fact]
    public void The_head_of_the_file_announces_stops_for_the_focus_only_where_there_are_some()
    {
        Assert.Contains("on the surface, from start to end", HeadOf(Engrave), StringComparison.Ordinal);
        Assert.Contains("The job stops 8 times", HeadOf(Ladder), StringComparison.Ordinal);
        PlanRequest deep = Cut with { Settings = [.. Cut.Settings, Range(Setting.FocusOffsetMm, "-1.5")] };
        Assert.Contains("The job stops 3 times", HeadOf(deep), StringComparison.Ordinal);

        static string HeadOf(PlanRequest request) =>
            CardPlanner.WriteMachineFile(CardPlanner.MakePlan(request with { Machine = Bench }).Value).Value.ReplaceLineEndings(" ");
    }

    [Fact]
    public void Words_of_the_maker_cannot_end_a_comment_or_start_a_move()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Machine = Bench with { Name = "a) G0 X9999 (\nM3 S1000\r%;" },
            Title = "(MSG, ü) M3\u2028" + new string('x', 500)
        }).Value;
        string file = CardPlanner.WriteMachineFile(plan).Value;
        ReplayCheck.Holds(plan, file);
        Assert.All(file.Split('\n'), line => Assert.True(line.Length <= 80, line));
    }

    [Fact]
    public void A_machine_that_does_not_tell_its_limits_gets_no_file_and_learns_what_is_missing()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        Refusal refusal = CardPlanner.WriteMachineFile(plan).Refusal!;
        Assert.Equal("machine-incomplete", refusal.Code);
        Assert.Contains("the machine's work area, fastest safe feed and S value of full power are not known.", refusal.Told(),
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_without_an_order_of_burning_gets_no_file() =>
        Assert.Equal("plan-no-burning", CardPlanner.WriteMachineFile(
            CardPlanner.MakePlan(Engrave with { Machine = Bench }).Value with { Burning = null }).Refusal!.Code);

    [Fact]
    public void Any_plan_for_any_machine_is_burned_as_planned() =>
        Generators.Job.Sample(request =>
        {
            Outcome<Plan> plan = CardPlanner.MakePlan(request);
            Assert.True(!plan.IsRefused, plan.Refusal?.ToString());
            ReplayCheck.Holds(plan.Value, CardPlanner.WriteMachineFile(plan.Value).Value);
        }, iter: 60, threads: 1);

    private static void Replayed(PlanRequest request)
    {
        Plan plan = CardPlanner.MakePlan(request with { Machine = Bench }).Value;
        ReplayCheck.Holds(plan, CardPlanner.WriteMachineFile(plan).Value);
    }
}
