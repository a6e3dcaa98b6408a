using CardScan.Model;

namespace CardScan.Workflow.Tests;

/// <summary>Where the next photo of a cut card is to be taken.</summary>
public class PhotoGuideTests
{
    private static readonly SideReading Unseen = new() { State = SideState.Unseen };

    private static readonly Lazy<Reading> Shared = new(() => ReadOne.Run(new()
    {
        Photos = [Data("lime-cut-left.jpg"), Data("lime-cut-front.jpg"), Data("lime-cut-right.jpg")], Plans = [Data("plan.json")],
    }).Value.Reading);

    private static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", "cut", name);

    /// <summary>The card with every side that is hidden unseen and every other one seen.</summary>
    private static Reading With(Func<CellReading, bool> isHidden) => Shared.Value with
    {
        Cells = Shared.Value.Cells.Select(cell => isHidden(cell)
            ? cell with { Sides = new(Unseen, Unseen, Unseen, Unseen), Through = Opening.Unseen }
            : cell with { Sides = Seen(cell.Sides!) }).ToValueList(),
    };

    private static Sides Seen(Sides sides) => new(Seen(sides.Left), Seen(sides.Right), Seen(sides.Top), Seen(sides.Bottom));

    private static SideReading Seen(SideReading side) => side.State == SideState.Unseen
        ? new() { State = SideState.Closed, OpenFraction = 0, SeenFraction = 1 }
        : side;

    [Fact]
    public void An_engraved_card_needs_no_guide() =>
        Assert.Null(PhotoGuide.Of(Shared.Value with { Plan = Shared.Value.Plan with { Process = Process.Engrave } }));

    [Fact]
    public void A_card_whose_sides_are_all_seen_is_settled_and_asks_for_no_place()
    {
        PhotoGuide guide = PhotoGuide.Of(With(_ => false))!;
        Assert.True(guide.IsSettled);
        Assert.Null(guide.HoldAt);
        Assert.Equal(guide.AllSides, guide.SeenSides);
        Assert.Equal(4 * Shared.Value.Plan.Cells.Count, guide.AllSides);
    }

    [Fact]
    public void A_card_of_which_nothing_is_seen_is_not_settled()
    {
        PhotoGuide guide = PhotoGuide.Of(With(_ => true))!;
        Assert.False(guide.IsSettled);
        Assert.Equal(0, guide.SeenSides);
    }

    [Theory]
    [InlineData(false, false)]
    [InlineData(false, true)]
    [InlineData(true, false)]
    [InlineData(true, true)]
    public void The_phone_is_sent_to_the_quarter_that_has_the_unseen_sides(bool isRight, bool isLower)
    {
        Plan plan = Shared.Value.Plan;
        (double middle, double centre) = (plan.Card.WidthMm / 2, plan.Card.HeightMm / 2);
        Dictionary<(int, int), Cell> cells = plan.Cells.ToDictionary(cell => (cell.Row, cell.Column));
        PhotoGuide guide = PhotoGuide.Of(With(cell => IsThere(cells[(cell.Row, cell.Column)])))!;
        Assert.Equal(isRight, guide.HoldAt!.Value.XMm > middle);
        Assert.Equal(isLower, guide.HoldAt!.Value.YMm > centre);
        Assert.InRange(guide.SeenSides, 1, guide.AllSides - 4);

        bool IsThere(Cell cell) => cell.XMm > middle == isRight && cell.XMm + cell.WidthMm > middle == isRight
            && cell.YMm > centre == isLower && cell.YMm + cell.HeightMm > centre == isLower;
    }

    /// <summary>A cell that is held on three sides is held, whatever the fourth does: no photo of it changes the setting.</summary>
    [Fact]
    public void A_side_that_does_not_matter_leaves_the_card_settled()
    {
        Reading whole = With(_ => false);
        CellReading held = whole.Cells.First(cell => cell.Sides is
        {
            Left.State: SideState.Closed, Right.State: SideState.Closed, Top.State: SideState.Closed, Bottom.State: SideState.Closed,
        });
        PhotoGuide guide = PhotoGuide.Of(whole with
        {
            Cells = whole.Cells.Select(cell => cell == held ? cell with { Sides = held.Sides! with { Left = Unseen } } : cell)
                .ToValueList(),
        })!;
        Assert.Equal(guide.AllSides - 1, guide.SeenSides);
        Assert.True(guide.IsSettled);
        Assert.NotNull(guide.HoldAt);
    }
}
