using System.Text;
using CardScan.Model;
using CsCheck;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class CardPlannerTests
{
    [Fact]
    public void The_first_setting_with_several_values_runs_across_and_the_second_down()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        Assert.Equal(Setting.PowerPercent, plan.Columns.Setting);
        Assert.Equal([20.0, 35, 50, 65, 80, 95], plan.Columns.Values);
        Assert.Equal(Setting.SpeedMmPerMin, plan.Rows.Setting);
        Assert.Equal(30, plan.Cells.Count);
        Assert.Equal(CardPlanner.UsualLineIntervalMm, plan.Fixed.LineIntervalMm);
        Assert.Equal([68, 69, 70, 71], plan.Fiducials.Markers.Select(marker => marker.Id));
    }

    [Fact]
    public void The_smallest_card_holds_markers_label_strip_cells_and_gaps()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        Assert.Equal(2 * (4 + 10 + 6) + 6 * 8 + 5 * 6, plan.Card.WidthMm);
        Assert.Equal(2 * (4 + 10 + 6) + 5 * 8 + 4 * 6, plan.Card.HeightMm);
    }

    [Fact]
    public void A_larger_card_spreads_the_grid()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Card = new() { WidthMm = 150, HeightMm = 130 } }).Value;
        Assert.Equal(20, plan.Cells.Min(cell => cell.XMm), 1e-9);
        Assert.Equal(130, plan.Cells.Max(cell => cell.XMm + cell.WidthMm), 1e-9);
        Assert.Equal(110, plan.Cells.Max(cell => cell.YMm + cell.HeightMm), 1e-9);
    }

    [Fact]
    public void One_setting_with_several_values_makes_a_single_row()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Settings = [Range(Setting.PowerPercent, "60"), Range(Setting.SpeedMmPerMin, "1000:3000:5")]
        }).Value;
        Assert.Equal(Setting.SpeedMmPerMin, plan.Columns.Setting);
        Assert.Equal(Setting.PowerPercent, plan.Rows.Setting);
        Assert.Equal([60.0], plan.Rows.Values);
        Assert.Equal(5, plan.Cells.Count);
    }

    [Fact]
    public void A_cut_plan_has_no_line_interval() => Assert.Null(CardPlanner.MakePlan(Cut).Value.Fixed.LineIntervalMm);

    public static TheoryData<string, string> Faults => new()
    {
        { "number", "--number cannot be 250. Give 0 to 249." },
        { "cell", "--cell cannot be NaN." },
        { "gap", "--gap cannot be 2.9. Give 3 to 50 mm: the light is judged" },
        { "gap of a cut", "--gap cannot be 5.9. Give 6 to 50 mm: the light is judged" },
        { "small cell of a cut", "--cell cannot be 3.9. Give 4 to 50 mm." },
        { "small marker on a mask", "--marker cannot be 9. Give 10 to 15 mm." },
        { "marker", "--marker cannot be 5.9. Give 6 to 15 mm." },
        { "watts", "--watts cannot be 0. Give more than 0, at most 100000 W" },
        { "thickness", "--thickness cannot be -3. Give more than 0, at most 1000 mm." },
        { "small card", "--card is 100 × 90 mm, and 6 × 5 cells need at least 118 × 104 mm." },
        { "huge card", "--card cannot be Infinity." },
        { "no speed", "--speed is missing." },
        { "no axis", "Every setting has one value." },
        { "three axes", "--power, --speed and --passes all have several values." },
        { "twice", "--power is given twice." },
        { "too many", "The grid has 40 × 50 = 2000 cells. Give fewer values, at most 1000 cells." },
        { "interval of a cut", "--line-interval is given for a cut card" },
        { "no name", "--material is empty." },
        { "work area", "The card is 118 × 104 mm, and the machine's work area is 110 × 400 mm." },
        { "too fast", "--speed goes up to 5000 mm/min, and the machine's fastest safe feed is 4000 mm/min." },
        { "mark too fast", "Markers and labels are to be burned at 7000 mm/min" },
        { "too slow", "--speed cannot be 0.01 mm/min. Give at least 10 mm/min" },
        { "hostile machine", "The machine's fullPowerS is NaN: expected 1 to 1000000." },
        { "too deep", "The focus would go to -2 mm, and the machine's Z axis goes from -1 to 5 mm." },
        { "tabs of an engraving", "--tabs cannot be 2. Leave it out: only a cut card has tabs." },
        { "mark without power", "--mark-power cannot be NaN. Give more than 0, at most 100 %." },
        { "ladder without focus", "A focus ladder needs --focus-offset with at least 4 values." },
        { "ladder of a cut", "A focus ladder is asked for with --process cut." },
        { "ladder with interval", "--line-interval is given for a focus ladder" },
        { "frame too large", "The paper mask is 254 × 222 mm, and Letter paper holds 267.4 × 203.9 mm. Give fewer values" },
        { "frame of a cut", "--frame is given for a cut card. Leave out --frame" },
        { "frame of a ladder", "--frame is given for a focus ladder. Leave out --frame" },
        { "interval too wide", "--line-interval cannot be 3 in cells that are 8 mm high. Give at most 2 mm" },
    };

    [Theory]
    [MemberData(nameof(Faults))]
    public void A_hostile_request_ends_in_one_clear_line(string fault, string start)
    {
        Refusal refusal = CardPlanner.MakePlan(Spoilt(fault)).Refusal!;
        Assert.Equal(RefusalKind.WrongInput, refusal.Kind);
        Assert.StartsWith(start, refusal.Told());
        Assert.DoesNotContain('\n', refusal.ToString());
    }

    [Fact]
    public void Any_request_in_range_gives_a_plan_that_reads_back_with_gaps_as_wide_as_asked() =>
        Generators.AnySize.Sample(request =>
        {
            Plan plan = CardPlanner.MakePlan(request).Value;
            Assert.Equal(plan, CardJson.ReadPlan(Encoding.UTF8.GetBytes(CardJson.Write(plan))).Value.Plan);
            foreach (Cell cell in plan.Cells.Where(cell => cell.Column > 0))
            {
                Cell left = plan.Cells.Single(other => other.Row == cell.Row && other.Column == cell.Column - 1);
                Assert.True(cell.XMm - left.XMm - left.WidthMm >= request.GapMm - 0.002);
            }
        }, iter: 200);

    private static PlanRequest Spoilt(string fault) => fault switch
    {
        "number" => Engrave with { Number = 250 },
        "cell" => Engrave with { CellSideMm = double.NaN },
        "gap" => Engrave with { GapMm = 2.9 },
        "gap of a cut" => Cut with { GapMm = 5.9 },
        "small cell of a cut" => Cut with { CellSideMm = 3.9 },
        "small marker on a mask" => Engrave with { Frame = Paper.A4, MarkerSideMm = 9 },
        "marker" => Engrave with { MarkerSideMm = 5.9 },
        "watts" => Engrave with { Machine = new() { Name = "m", RatedOpticalWatts = 0 } },
        "thickness" => Engrave with { Material = new() { Name = "m", ThicknessMm = -3 } },
        "small card" => Engrave with { Card = new() { WidthMm = 100, HeightMm = 90 } },
        "huge card" => Engrave with { Card = new() { WidthMm = double.PositiveInfinity, HeightMm = 90 } },
        "no speed" => Engrave with { Settings = [Range(Setting.PowerPercent, "20:80:4")] },
        "no axis" => Engrave with { Settings = [Range(Setting.PowerPercent, "20"), Range(Setting.SpeedMmPerMin, "900")] },
        "three axes" => Engrave with { Settings = [.. Engrave.Settings, Range(Setting.Passes, "1,2")] },
        "twice" => Engrave with { Settings = [.. Engrave.Settings, Range(Setting.PowerPercent, "1,2")] },
        "too many" => Engrave with { Settings = [Range(Setting.PowerPercent, "20:80:40"), Range(Setting.SpeedMmPerMin, "100:5000:50")] },
        "interval of a cut" => Cut with { Settings = [.. Cut.Settings, Range(Setting.LineIntervalMm, "0.1")] },
        "no name" => Engrave with { Material = new() { Name = " " } },
        "work area" => Engrave with { Machine = Bench with { WorkArea = new() { WidthMm = 110, HeightMm = 400 } } },
        "too fast" => Engrave with { Machine = Bench with { FastestFeedMmPerMin = 4000 } },
        "mark too fast" => Engrave with { Machine = Bench, Mark = new() { PowerPercent = 100, SpeedMmPerMin = 7000 } },
        "too slow" => Engrave with { Settings = [Range(Setting.PowerPercent, "20:80:4"), Range(Setting.SpeedMmPerMin, "0.01,100")] },
        "hostile machine" => Engrave with { Machine = Bench with { FullPowerS = double.NaN } },
        "too deep" => Ladder with { Machine = Bench with { PoweredZ = new() { LowestMm = -1, HighestMm = 5 } } },
        "tabs of an engraving" => Engrave with { TabsPerSide = 2 },
        "mark without power" => Engrave with { Mark = new() { PowerPercent = double.NaN, SpeedMmPerMin = 1000 } },
        "ladder without focus" => Ladder with { Settings = [.. Ladder.Settings.Take(2)] },
        "ladder of a cut" => Ladder with { Process = Process.Cut },
        "ladder with interval" => Ladder with { Settings = [.. Ladder.Settings, Range(Setting.LineIntervalMm, "0.1")] },
        "frame too large" => Engrave with { Frame = Paper.Letter, CellSideMm = 26 },
        "frame of a cut" => Cut with { Frame = Paper.A4 },
        "frame of a ladder" => Ladder with { Frame = Paper.A4 },
        "interval too wide" => Engrave with { Settings = [.. Engrave.Settings, Range(Setting.LineIntervalMm, "3")] },
        _ => throw new ArgumentOutOfRangeException(nameof(fault), fault, "No such fault."),
    };
}
