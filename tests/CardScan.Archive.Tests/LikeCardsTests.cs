using CardScan.Model;

namespace CardScan.Archive.Tests;

public sealed class LikeCardsTests : IDisposable
{
    private readonly Scratch _scratch = new();
    private readonly CardArchive _archive;

    public LikeCardsTests() => _archive = _scratch.Open();

    public void Dispose()
    {
        _archive.Dispose();
        _scratch.Dispose();
    }

    [Fact]
    public void Cards_of_the_same_material_thickness_batch_and_machine_are_found_newest_reading_first()
    {
        Keep(Kept.Plan(1));
        Keep(Kept.Plan(2, " Birch Plywood", "b-1 ", thicknessMm: 3.004));
        Keep(Kept.Plan(3));
        Assert.Equal([3, 2, 1], Numbers(Kept.Plan(9)));
        Assert.Equal([3, 2], Numbers(Kept.Plan(9), most: 2));
    }

    [Fact]
    public void Letters_beyond_ASCII_are_compared_without_case_too()
    {
        Keep(Kept.Plan(1, "äsche"));
        Assert.Equal([1], Numbers(Kept.Plan(9, "Äsche")));
    }

    /// <summary>Plans that differ from the usual one in one thing.</summary>
    public static TheoryData<string, Func<Plan, Plan>> Others => new()
    {
        { "material", plan => plan with { Material = plan.Material with { Name = "birch" } } },
        { "thickness", plan => plan with { Material = plan.Material with { ThicknessMm = 3.2 } } },
        { "no thickness", plan => plan with { Material = plan.Material with { ThicknessMm = null } } },
        { "batch", plan => plan with { Material = plan.Material with { Batch = "B-2" } } },
        { "no batch", plan => plan with { Material = plan.Material with { Batch = null } } },
        { "machine", plan => plan with { Machine = plan.Machine with { Name = "other" } } },
        { "watts", plan => plan with { Machine = plan.Machine with { RatedOpticalWatts = 20 } } },
        { "process", plan => plan with { Process = Process.Cut } },
        { "the same number", plan => plan with { Number = 9, Fiducials = Kept.Plan(9).Fiducials } },
    };

    [Theory]
    [MemberData(nameof(Others))]
    public void Cards_that_differ_are_not_found(string what, Func<Plan, Plan> change)
    {
        Keep(change(Kept.Plan(1)));
        Assert.True(Numbers(Kept.Plan(9)).Length == 0, what);
    }

    [Fact]
    public void Cards_without_batch_and_thickness_are_like_each_other()
    {
        Plan bare = Kept.Plan(1) with { Material = new() { Name = "slate" } };
        Keep(bare);
        Assert.Equal([1], Numbers(bare with { Number = 9 }));
    }

    [Fact]
    public void A_card_that_was_read_again_is_given_with_its_newest_current_reading_and_the_day_of_its_first()
    {
        DateTimeOffset first = _scratch.Clock.Now;
        Keep(Kept.Plan(1), "one");
        _scratch.Clock.Now = _scratch.Clock.Now.AddDays(1);
        Keep(Kept.Plan(1), "one", darkness: 0.5);
        KeptReading newest = Keep(Kept.Plan(1), "two");
        LikeCard card = Assert.Single(_archive.CardsLike(Kept.Plan(9), null, 8).Value);
        Assert.Equal((1, newest.Id, newest.Name, first), (card.Number, card.ReadingId, card.ReadingName, card.FirstReadUtc));
    }

    [Fact]
    public void A_card_that_was_only_planned_is_not_found()
    {
        _archive.KeepCard(Kept.Json(Kept.Plan(1)));
        Assert.Empty(Numbers(Kept.Plan(9)));
    }

    [Fact]
    public void Before_a_reading_lie_the_cards_that_were_read_before_it_with_what_they_were_read_as_since()
    {
        Keep(Kept.Plan(1), "one");
        long second = Keep(Kept.Plan(2), "two").Id;
        Keep(Kept.Plan(3), "three");
        long again = Keep(Kept.Plan(1), "one", darkness: 0.6).Id;
        LikeCard card = Assert.Single(_archive.CardsLike(Kept.Plan(2), second, 8).Value);
        Assert.Equal((1, again), (card.Number, card.ReadingId));
    }

    [Fact]
    public void A_setting_of_an_earlier_card_is_kept_with_that_cards_passes_and_not_those_of_the_cell_at_its_place()
    {
        ReadingToKeep what = Kept.Reading(Kept.Plan(1, "felt"));
        CellReading own = what.Reading.Cells[0];
        CellReading earlier = own with { Settings = own.Settings with { Passes = 4, LineIntervalMm = 0.07, FocusOffsetMm = -2 } };
        Recommendation setting = what.Reading.Recommendations[0] with { Cell = new(own.Row, own.Column), Card = 6, EarlierCell = earlier };
        _archive.KeepReading(what with { Reading = what.Reading with { Recommendations = [setting] } });
        IsTold();

        _archive.Repair();
        IsTold();

        void IsTold()
        {
            RecommendationEntry best = Assert.Single(_archive.Settings(new() { Material = "felt" }).Value).Recommendation;
            Assert.Equal((6, 4, 0.07, -2), (best.Card, best.Passes, best.LineIntervalMm, best.FocusOffsetMm));
            Assert.Equal(best, Assert.Single(_archive.Find(new()).Value[0].Recommendations));
            Assert.Empty(_archive.Verify().Value.Faults);
        }
    }

    private KeptReading Keep(Plan plan, string photo = "photo", double darkness = 0.4) =>
        _archive.KeepReading(Kept.Reading(plan, $"{plan.Number} {photo}", darkness)).Value;

    private int[] Numbers(Plan plan, int most = 8) => [.. _archive.CardsLike(plan, null, most).Value.Select(card => card.Number)];
}
