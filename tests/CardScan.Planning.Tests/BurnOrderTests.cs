using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

public class BurnOrderTests
{
    [Fact]
    public void No_two_neighbours_of_an_ordinary_grid_follow_each_other_whatever_the_seed()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        for (int seed = 0; seed < 300; seed++)
        {
            ValueList<int> order = BurnOrder.Of(plan, seed);
            Assert.Equal(Enumerable.Range(0, 30), order.Order());
            foreach ((Cell a, Cell b) in order.Select(i => plan.Cells[i]).Zip(order.Skip(1).Select(i => plan.Cells[i])))
                Assert.True(Math.Abs(a.Row - b.Row) > 1 || Math.Abs(a.Column - b.Column) > 1, $"seed {seed}: {a} before {b}");
        }
    }

    [Fact]
    public void The_same_seed_gives_the_same_order_and_another_one_another()
    {
        Plan plan = CardPlanner.MakePlan(Engrave).Value;
        Assert.Equal(BurnOrder.Of(plan, 5), BurnOrder.Of(plan, 5));
        Assert.NotEqual(BurnOrder.Of(plan, 5), BurnOrder.Of(plan, 6));
        Assert.Equal(17, plan.Burning!.Seed);
        Assert.Equal(BurnOrder.Of(plan, 17), plan.Burning.Order);
        Assert.Equal(BurnOrder.Of(plan, 3), CardPlanner.MakePlan(Engrave with { Seed = 3 }).Value.Burning!.Order);
    }

    [Fact] // A plan names its seed: the order of a seed must never change.
    public void The_order_of_a_seed_stays_what_it_was() =>
        Assert.Equal(Recorded, BurnOrder.Of(CardPlanner.MakePlan(Engrave).Value, 17).Take(5));

    private static readonly int[] Recorded = [20, 1, 16, 4, 27];

    [Fact]
    public void A_single_row_has_an_order_although_neighbours_cannot_all_be_parted()
    {
        Plan plan = CardPlanner.MakePlan(Engrave with
        {
            Settings = [Range(Setting.PowerPercent, "50"), Range(Setting.SpeedMmPerMin, "1000,2000")]
        }).Value;
        Assert.Equal([0, 1], plan.Burning!.Order.Order());
    }
}
