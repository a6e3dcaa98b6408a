using CardScan.Model;
using CsCheck;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class OutlineFileTests
{
    [Fact]
    public void The_beam_stays_off_while_the_head_traces_the_card_and_then_what_is_burned()
    {
        NgcRun run = Run(Engrave with { Machine = Bench }, null);
        Assert.DoesNotContain(run.Motions, motion => motion.IsBurning || motion.Mode != 5 || motion.S != 0);
        Assert.Equal(
            [(118, 0), (118, 104), (0, 104), (0, 0)],
            run.Motions.Where(motion => !motion.IsRapid).Take(4).Select(motion => (motion.To.X, motion.To.Y)));
        Assert.Equal(8, run.Motions.Count(motion => !motion.IsRapid));
        Assert.Equal((0.0, 0.0), (run.Motions[^1].To.X, run.Motions[^1].To.Y));
        Assert.Contains("BEAM: off from start to end", Head(run), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(BeamMode.Constant, 3)]
    [InlineData(BeamMode.FollowsSpeed, 4)]
    public void A_pointer_is_on_at_its_power_while_the_head_traces_and_off_on_every_way_there(BeamMode beam, int mode)
    {
        NgcRun run = Run(Engrave with { Machine = Bench with { BeamMode = beam } }, 1.5);
        Assert.All(run.Motions, motion => Assert.Equal(!motion.IsRapid, motion.IsBurning));
        Assert.All(
            run.Motions.Where(motion => motion.IsBurning),
            motion => Assert.Equal((15, mode, 1500), (motion.S, motion.Mode, motion.FeedMmPerMin)));
        Assert.All(run.Motions.Where(motion => motion.IsRapid), motion => Assert.Equal(5, motion.Mode));
        Assert.Equal(5, run.ModeAtEnd);
        Assert.Contains("POINTER at 1.5 percent of full power, about 150 mW optical", Head(run), StringComparison.Ordinal);
        Assert.Contains($"M{mode}, ", Head(run), StringComparison.Ordinal);
        Assert.Contains("The pointer is a laser too", Head(run), StringComparison.Ordinal);
        Assert.Contains("rated for 455 nm", Head(run), StringComparison.Ordinal);
    }

    [Fact]
    public void Any_outline_stays_in_the_work_area_around_all_that_the_machine_file_burns() =>
        Generators.Job.Sample(request =>
        {
            Plan plan = CardPlanner.MakePlan(request).Value;
            NgcMotion[] burned = [.. NgcReader.Run(CardPlanner.WriteMachineFile(plan).Value).Motions.Where(motion => motion.IsBurning)];
            NgcMotion[] traced = [.. NgcReader.Run(CardPlanner.WriteOutline(plan, 3).Value).Motions];
            NgcMotion[] inner = [.. traced.Where(motion => motion.IsBurning).TakeLast(4)];
            Assert.Equal(burned.Min(motion => Math.Min(motion.From.X, motion.To.X)), inner.Min(motion => motion.To.X), 0.001);
            Assert.Equal(burned.Max(motion => Math.Max(motion.From.X, motion.To.X)), inner.Max(motion => motion.To.X), 0.001);
            Assert.Equal(burned.Min(motion => Math.Min(motion.From.Y, motion.To.Y)), inner.Min(motion => motion.To.Y), 0.001);
            Assert.Equal(burned.Max(motion => Math.Max(motion.From.Y, motion.To.Y)), inner.Max(motion => motion.To.Y), 0.001);
            Assert.All(traced, motion =>
            {
                Assert.InRange(motion.To.X, 0, plan.Machine.WorkArea!.WidthMm);
                Assert.InRange(motion.To.Y, 0, plan.Machine.WorkArea.HeightMm);
                Assert.True(motion.IsRapid || motion.FeedMmPerMin <= plan.Machine.FastestFeedMmPerMin);
                Assert.Equal(0, motion.To.Z);
            });
        }, iter: 40, threads: 1);

    [Fact]
    public void Of_a_paper_mask_it_traces_the_piece()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Machine = Bench, Frame = Paper.A4 }).Value;
        NgcRun run = NgcReader.Run(CardPlanner.WriteOutline(plan, null).Value);
        Assert.Equal(plan.Frame!.Window.WidthMm, run.Motions.Max(motion => motion.To.X), 0.001);
        Assert.Equal(plan.Frame.Window.HeightMm, run.Motions.Max(motion => motion.To.Y), 0.001);
        Assert.Contains("edge of the piece", Head(run), StringComparison.Ordinal);
    }

    [Fact]
    public void Its_head_says_how_far_the_machine_file_goes_beyond_the_card()
    {
        Machine slow = Bench with { AccelerationMmPerS2 = 100 }; // M3: lines begin and end with a long run-up
        Plan plan = CardPlanner.MakePlan(Engrave with { Machine = slow }).Value;
        double right = NgcReader.Run(CardPlanner.WriteMachineFile(plan).Value).Motions.Max(motion => motion.To.X);
        Assert.True(right > 118);
        string head = Head(NgcReader.Run(CardPlanner.WriteOutline(plan, null).Value));
        Assert.Contains($"up to X{Math.Ceiling(right)} Y", head, StringComparison.Ordinal);
        Assert.DoesNotContain(
            "ROOM", Head(Run(Engrave with { Machine = slow with { BeamMode = BeamMode.FollowsSpeed } }, null)), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(10600)]
    [InlineData(1064)]
    [InlineData(355)]
    public void A_beam_that_nobody_sees_is_no_pointer_but_its_outline_is_traced_without_it(double wavelengthNm)
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Machine = Bench with { WavelengthNm = wavelengthNm } }).Value;
        Refusal refusal = CardPlanner.WriteOutline(plan, 1).Refusal!;
        Assert.Equal("pointer-invisible", refusal.Code);
        Assert.Contains($"{wavelengthNm} nm cannot be seen", refusal.Told(), StringComparison.Ordinal);
        Assert.False(CardPlanner.WriteOutline(plan, null).IsRefused);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(3.01)]
    [InlineData(100)]
    [InlineData(double.NaN)]
    public void More_than_a_pointer_may_have_is_never_written(double percent) =>
        Assert.Throws<ArgumentOutOfRangeException>(
            () => CardPlanner.WriteOutline(CardPlanner.MakePlan(Engrave with { Machine = Bench }).Value, percent));

    [Fact]
    public void A_machine_that_does_not_tell_its_limits_gets_no_outline() =>
        Assert.Equal("machine-incomplete", CardPlanner.WriteOutline(CardPlanner.MakePlan(Engrave).Value, null).Refusal!.Code);

    private static NgcRun Run(PlanRequest request, double? pointerPercent) =>
        NgcReader.Run(CardPlanner.WriteOutline(CardPlanner.MakePlan(request).Value, pointerPercent).Value);

    private static string Head(NgcRun run) => string.Join(" ", run.Comments);
}
