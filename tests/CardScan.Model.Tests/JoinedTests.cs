using System.Text;
using CardScan.Language;

namespace CardScan.Model.Tests;

public class JoinedTests
{
    private static readonly JoinedCard Seventeen = new()
    {
        Number = 17, CellsUsed = 36, Taken = new(2026, 11, 2, 23, 30, 0), FirstReadUtc = new(2026, 11, 5, 1, 0, 0, DateTimeKind.Utc),
    };

    private static readonly JoinedCard Nineteen =
        new() { Number = 19, CellsUsed = 1, FirstReadUtc = new(2026, 11, 9, 1, 0, 0, DateTimeKind.Utc) };

    [Fact]
    public void A_joined_card_is_told_with_its_cells_and_the_day_of_its_photo_or_else_of_its_reading()
    {
        Assert.Equal("card 17 (36 cells, 2 Nov 2026)", Voice.Tell(Seventeen.ToFigure()));
        Assert.Equal("card 19 (1 cell, 9 Nov 2026)", Voice.Tell(Nineteen.ToFigure()));
        Assert.Equal("card 19 (1 cell)", Voice.Tell((Nineteen with { FirstReadUtc = null }).ToFigure()));
        Assert.Equal(
            "card 17 (36 cells, 2 Nov 2026), card 19 (1 cell, 9 Nov 2026) and card 3 (0 cells)",
            Voice.Tell(JoinedCard.ToFigure([Seventeen, Nineteen, new() { Number = 3, CellsUsed = 0 }])));
    }

    [Fact]
    public void A_cell_of_an_earlier_card_is_not_looked_up_on_this_one()
    {
        Recommendation own = Samples.Reading.Recommendations[0] with { Cell = new(0, 0) };
        Recommendation earlier = own with { Card = 16 };

        Assert.Equal(Samples.Reading.Cells[0], Samples.Reading.CellOf(own));
        Assert.Equal(new(0, 0), own.OwnCell);
        Assert.Null(Samples.Reading.CellOf(earlier));
        Assert.Null(earlier.OwnCell);
        Assert.Equal(2, Samples.Reading.CellOf(Samples.OnEarlierCard)!.Settings.Passes);
    }

    [Fact]
    public void A_cell_of_an_earlier_card_may_lie_beyond_this_cards_grid() =>
        Assert.False(CardJson.ReadReading(Encoding.UTF8.GetBytes(CardJson.Write(Samples.Reading))).IsRefused);

    [Fact]
    public void Passes_that_a_file_leaves_out_of_an_earlier_cell_are_one()
    {
        string text = CardJson.Write(Samples.Reading).Replace("\"passes\": 2,", "\"times\": 2,", StringComparison.Ordinal);
        Assert.Equal(1, CardJson.ReadReading(Encoding.UTF8.GetBytes(text)).Value.Recommendations[1].EarlierCell!.Settings.Passes);
    }
}
