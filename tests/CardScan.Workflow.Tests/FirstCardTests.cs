using CardScan.Model;
using CardScan.Planning;

namespace CardScan.Workflow.Tests;

public class FirstCardTests
{
    private static readonly Machine Bench = new()
    {
        Name = "bench diode", RatedOpticalWatts = 10, WavelengthNm = 450, WorkArea = new() { WidthMm = 400, HeightMm = 400 },
        FastestFeedMmPerMin = 6000, FullPowerS = 1000, BeamMode = BeamMode.FollowsSpeed, AccelerationMmPerS2 = 500,
    };

    private static CardRequest Bamboo => new()
    {
        MayShrinkCells = true,
        Plan = new()
        {
            Process = Process.Cut, Machine = Bench, Material = new() { Name = "bamboo", ThicknessMm = 8 }, Settings = [],
        },
    };

    [Fact]
    public void A_first_card_that_takes_long_gets_smaller_cells_and_every_other_power_and_reaches_the_same_energies()
    {
        Plan whole = Made(Bamboo with { MayShrinkCells = false }), shrunk = Made(Bamboo);
        Assert.True(CardPlanner.Estimate(whole).IsLong);
        Assert.False(CardPlanner.Estimate(shrunk).IsLong);
        Assert.Equal([60, 80, 100], shrunk.Columns.Values);
        Assert.Equal(Doses(whole).Min(), Doses(shrunk).Min());
        Assert.Equal(Doses(whole).Max(), Doses(shrunk).Max());
    }

    [Fact]
    public void Powers_that_were_asked_for_stay()
    {
        ValueList<double> asked = [70, 80, 90, 95, 100];
        CardRequest request = Bamboo with { Plan = Bamboo.Plan with { Settings = [new(Setting.PowerPercent, asked)] } };
        Assert.Equal(asked, Made(request).Columns.Values);
    }

    [Fact]
    public void A_request_with_nothing_left_open_stays_as_it_is()
    {
        CardRequest request = Bamboo with
        {
            Plan = Bamboo.Plan with { Settings = [new(Setting.PowerPercent, [80, 100]), new(Setting.SpeedMmPerMin, [20, 40])] },
        };
        Assert.Equal(request.Plan, FirstCard.Of(request).Value);
    }

    [Fact] // Credit cards are 85.6 × 54 mm (ISO/IEC 7810, ID-1); blanks for engraving are sold in that size.
    public void A_card_of_given_size_gets_cells_that_fit_and_fewer_speeds_where_they_do_not()
    {
        CardRequest request = new()
        {
            MayFitToCard = true,
            Plan = new()
            {
                Machine = Bench, Material = new() { Name = "anodised aluminium" }, Settings = [],
                Card = new() { WidthMm = 86, HeightMm = 54 },
            },
        };
        Plan plan = Made(request);
        Assert.True(plan.Columns.Values.Count >= 5 && plan.Rows.Values.Count >= 4);
        Assert.Equal((86, 54), (plan.Card.WidthMm, plan.Card.HeightMm));
    }

    private static IEnumerable<double> Doses(Plan plan) => plan.Cells.Select(cell => plan.DoseOf(plan.SettingsOf(cell))!.Value);

    private static Plan Made(CardRequest request) => CardPlanner.MakePlan(FirstCard.Of(request).Value).Value;
}
