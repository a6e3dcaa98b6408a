using CardScan.Language;
using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class BurnTimeTests
{
    [Fact] // By hand: an 8 mm side at 120 mm/min is 2 mm/s; 8 / 2 + 2 / 800 s each, four sides, two passes.
    public void A_cut_cell_takes_its_sides_and_the_way_to_it()
    {
        Plan plan = CardPlanner.MakePlan(Cut with
        {
            Machine = Bench,
            Settings = [Range(Setting.PowerPercent, "50,100"), Range(Setting.SpeedMmPerMin, "120"), Range(Setting.Passes, "2")]
        }).Value;
        double sides = 2 * 4 * (8 / 2.0 + 2 / 800.0);
        Assert.All(CardPlanner.Estimate(plan).Cells, cell => Assert.InRange(cell.Seconds, sides, sides + 3));
        Assert.Equal(2 * 32 / 2.0 * 5, CardPlanner.Estimate(plan).Cells[0].Joules, 1e-6);
    }

    [Fact]
    public void The_energy_of_a_cell_is_its_dose_times_its_area()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with { Machine = Bench }).Value;
        BurnEstimate estimate = CardPlanner.Estimate(plan);
        foreach (Cell cell in plan.Cells)
        {
            double dose = plan.SettingsOf(cell).DoseOf(Process.Engrave, 10)!.Value;
            Assert.Equal(dose * 64, estimate.Cells.Single(one => one.Row == cell.Row && one.Column == cell.Column).Joules, 1e-6 * dose);
        }

        Assert.True(estimate.Joules > estimate.Cells.Sum(cell => cell.Joules), "markers and labels take energy as well");
    }

    [Fact]
    public void Of_cells_that_take_the_same_time_the_one_with_the_most_power_is_the_one_to_watch()
    {
        CellEstimate[] cells = [new(0, 3, 49, 250), new(0, 5, 49, 365), new(1, 0, 50, 30)];
        Assert.Equal(
            (0, 5), (new BurnEstimate(148, 645, [.. cells]).MostEnergy.Row, new BurnEstimate(148, 645, [.. cells]).MostEnergy.Column));
    }

    [Theory]
    [InlineData(45, "45 s")]
    [InlineData(600, "10 min")]
    [InlineData(614, "10 min")]
    [InlineData(3900, "1 h 5 min")]
    public void A_time_is_told_no_finer_than_it_is_estimated(double seconds, string words) =>
        Assert.Equal(words, Voice.Tell(new BurnEstimate(seconds, 0, []).Time));
}
