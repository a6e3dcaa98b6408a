using CardScan.Model;
using static CardScan.Planning.Tests.Requests;

namespace CardScan.Planning.Tests;

/// <summary>How small cards may be; what the limits rest on is measured in tests/CardScan.Vision.Tests/SmallCardTests.cs.</summary>
public sealed class SmallestSizesTests
{
    private static readonly CardSize Small = new() { WidthMm = 86, HeightMm = 54 };

    private static PlanRequest OnSmallCard => Engrave with
    {
        Card = Small,
        Settings = [Range(Setting.PowerPercent, "20:80:5"), Range(Setting.SpeedMmPerMin, "1000:4000:4")],
    };

    [Fact]
    public void A_small_card_gets_the_largest_sizes_that_fit()
    {
        Plan plan = CardPlanner.MakePlan(CardPlanner.FitToCard(OnSmallCard)).Value;

        Assert.Equal(20, plan.Cells.Count);
        Assert.Equal(Small, plan.Card);
        Assert.Equal((4, 6), (plan.Cells[0].WidthMm, plan.Fiducials.SideMm));
        Assert.Equal(7, plan.Cells[5].YMm - plan.Cells[0].YMm, 1e-9);
    }

    [Fact]
    public void A_card_with_room_keeps_the_usual_sizes()
    {
        PlanRequest roomy = Engrave with { Card = new() { WidthMm = 130, HeightMm = 110 } };

        Assert.Equal(roomy, CardPlanner.FitToCard(roomy));
    }

    [Fact]
    public void A_request_without_a_card_or_of_a_ladder_stays_as_it_is()
    {
        Assert.Equal(Engrave, CardPlanner.FitToCard(Engrave));
        Assert.Equal(Ladder with { Card = Small }, CardPlanner.FitToCard(Ladder with { Card = Small }));
    }

    [Fact]
    public void Where_nothing_fits_the_refusal_says_what_the_smallest_would_need() =>
        Assert.StartsWith("--card is 86 × 54 mm, and 5 × 5 cells need at least 56 × 56 mm. Give a larger --card, fewer values",
            CardPlanner.MakePlan(CardPlanner.FitToCard(OnSmallCard with
            {
                Settings = [Range(Setting.PowerPercent, "20:80:5"), Range(Setting.SpeedMmPerMin, "1000:4000:5")],
            })).Refusal!.Told());

    [Fact]
    public void A_cut_card_keeps_its_gaps_and_takes_small_markers()
    {
        Plan plan = CardPlanner.MakePlan(CardPlanner.FitToCard(OnSmallCard with
        {
            Process = Process.Cut,
            Settings = [Range(Setting.PowerPercent, "20:80:5"), Range(Setting.SpeedMmPerMin, "100:400:3")],
        })).Value;

        Assert.Equal((4, 6), (plan.Cells[0].WidthMm, plan.Fiducials.SideMm));
        Assert.True(plan.Cells[5].YMm - plan.Cells[0].YMm - 4 >= 6);
    }

    [Theory]
    [InlineData(320, 10)] // 3024 px × 0.8 / 320 mm = 7.6 px/mm: 80 px are 10.6 mm, and nothing above the usual size is asked for
    [InlineData(280, 9.3)] // 8.64 px/mm
    [InlineData(200, 6.7)] // 12.1 px/mm
    [InlineData(170, 6)]
    public void Markers_grow_with_the_card_that_a_phone_has_to_see_whole(double sideMm, double leastMm)
    {
        PlanRequest request = Engrave with { Card = new() { WidthMm = sideMm, HeightMm = sideMm } };

        Assert.False(CardPlanner.MakePlan(request with { MarkerSideMm = leastMm }).IsRefused);
        string refusal = CardPlanner.MakePlan(request with { MarkerSideMm = leastMm - 0.1 }).Refusal!.Told();
        Assert.StartsWith($"--marker cannot be {leastMm - 0.1:0.#}", refusal);
        Assert.Contains(leastMm == 6 ? "Give 6 to 15 mm" : $"Give at least {leastMm} mm", refusal, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--cell", "3.9", "4 mm")]
    [InlineData("--gap", "5.2", "5.3 mm")]
    public void So_do_cells_and_gaps(string option, string given, string least)
    {
        PlanRequest large = Engrave with { Card = new() { WidthMm = 320, HeightMm = 320 } };

        Assert.StartsWith(
            $"{option} cannot be {given} on a card of 320 × 320 mm, which a 12-megapixel phone sees at 7.6 px/mm. Give at least {least}",
            CardPlanner.MakePlan(option == "--cell" ? large with { CellSideMm = 3.9 } : large with { GapMm = 5.2 }).Refusal!.Told());
    }
}
