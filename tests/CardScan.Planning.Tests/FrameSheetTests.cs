using System.Text;
using System.Text.RegularExpressions;
using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class FrameSheetTests
{
    private static readonly Plan Plan = CardPlanner.MakePlan(Engrave with { Machine = Bench, Frame = Paper.A4 }).Value;

    [Fact]
    public void Nothing_printed_touches_markers_or_window()
    {
        FrameSheet frame = Plan.Frame!;
        double side = Plan.Fiducials.SideMm;
        foreach (GreyStep step in frame.GreySteps)
        {
            Assert.True(step.YMm + step.HeightMm <= frame.Window.YMm - 2 || step.YMm >= frame.Window.YMm + frame.Window.HeightMm + 2);
            Assert.All(Plan.Fiducials.Markers, marker => Assert.True(
                step.XMm + step.WidthMm <= marker.XMm - 3 || step.XMm >= marker.XMm + side + 3
                    || step.YMm + step.HeightMm <= marker.YMm - 3 || step.YMm >= marker.YMm + side + 3));
        }

        Assert.All(
            frame.Rulers, ruler => Assert.True(ruler.FromYMm + 3 <= frame.GreySteps[0].YMm || ruler.FromXMm + 3 <= frame.Window.XMm));
    }

    [Fact]
    public void Every_grey_stands_twice_in_opposite_order_and_its_density_is_that_of_the_printed_grey()
    {
        double[] upper = [.. Plan.Frame!.GreySteps.Take(6).Select(step => step.Density)],
            lower = [.. Plan.Frame.GreySteps.Skip(6).Select(step => step.Density)];
        Assert.Equal(upper.Order(), upper);
        Assert.Equal(upper.Reverse(), lower);
        // IEC 61966-2-1: the grey 188 has Y = ((188 / 255 + 0.055) / 1.055)^2.4 = 0.5029, D = 0.2985, and is the nearest to 0.3.
        Assert.Equal(188, FrameLayout.GreyOf(0.3));
        Assert.Equal(0.2985, upper[1], 0.0002);
    }

    [Fact]
    public void What_is_burned_for_a_frame_lies_in_the_window_and_has_no_markers()
    {
        Window window = Plan.Frame!.Window;
        NgcRun run = ReplayCheck.Holds(Plan, CardPlanner.WriteMachineFile(Plan).Value);
        Assert.All(run.Motions.Where(motion => motion.IsBurning),
            motion => Assert.True(motion.To.X <= window.WidthMm && motion.To.Y <= window.HeightMm));
        Assert.DoesNotContain("class=\"marker\"", CardPlanner.DrawSvg(Plan), StringComparison.Ordinal);
        Assert.Contains($"viewBox=\"18 18 {window.WidthMm} {window.HeightMm}\"", CardPlanner.DrawSvg(Plan), StringComparison.Ordinal);
    }

    [Fact]
    public void The_labels_of_a_framed_grid_are_all_there_and_inside_the_window()
    {
        Window window = Plan.Frame!.Window;
        CardLabel[] labels = [.. CardLabels.Of(Plan)];
        Assert.Equal(4 + 6 + 5, labels.Length);
        Assert.All(labels, label => Assert.True(
            label.XMm > window.XMm && label.YMm > window.YMm && label.XMm + label.WidthMm < window.XMm + window.WidthMm
                && label.YMm + label.HeightMm < window.YMm + window.HeightMm));
    }

    [Theory]
    [InlineData(Paper.A4, 210, 297)]
    [InlineData(Paper.Letter, 215.9, 279.4)]
    public void The_printed_file_has_a_page_of_the_paper_and_a_page_of_words(Paper paper, double widthMm, double heightMm)
    {
        string pdf = Encoding.Latin1.GetString(CardPlanner.PrintFrame(CardPlanner.MakePlan(Engrave with { Frame = paper }).Value));
        Assert.StartsWith("%PDF-", pdf, StringComparison.Ordinal);
        double[][] boxes = [.. Regex.Matches(pdf, @"/MediaBox \[(?<box>[^\]]*)\]", RegexOptions.ExplicitCapture, TimeSpan.FromSeconds(5))
            .Select(match => match.Groups["box"].Value.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(double.Parse).ToArray())];
        Assert.Equal(2, boxes.Length);
        Assert.All(boxes, box =>
        {
            Assert.Equal(widthMm, box[2] / 72 * 25.4, 0.05);
            Assert.Equal(heightMm, box[3] / 72 * 25.4, 0.05);
        });
    }

    [Fact]
    public void A_plan_without_a_frame_cannot_be_printed() =>
        Assert.Throws<ArgumentException>(() => CardPlanner.PrintFrame(Plan with { Frame = null }));

    [Fact]
    public void A_sheet_too_wide_for_upright_paper_lies_across()
    {
        FrameSheet frame = CardPlanner.MakePlan(Engrave with { Frame = Paper.A4, CellSideMm = 18 }).Value.Frame!;
        Assert.Equal((297.0, 210.0), (frame.PaperWidthMm, frame.PaperHeightMm));
    }
}
