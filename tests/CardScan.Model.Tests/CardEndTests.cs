namespace CardScan.Model.Tests;

public class CardEndTests
{
    [Theory]
    [InlineData(0, 0, "The card ends here: nothing slower was tested on it.")]
    [InlineData(1, 1, null)]
    [InlineData(2, 2, "The card ends here: nothing faster or stronger was tested on it.")]
    [InlineData(0, 2, "The card ends here: nothing slower or stronger was tested on it.")]
    public void A_setting_at_the_end_of_its_card_is_told(int row, int column, string? says)
    {
        Reading reading = Of([20, 50, 80], [1000, 2000, 3000]);
        Assert.Equal(says, CardEnd.Of(reading, At(reading, row, column)));
    }

    [Fact]
    public void There_is_nothing_above_full_power()
    {
        Reading reading = Of([20, 60, 100], [1000, 2000, 3000]);
        Assert.Null(CardEnd.Of(reading, At(reading, 1, 2)));
    }

    [Fact]
    public void A_setting_of_an_earlier_card_says_nothing_of_this_one()
    {
        Reading reading = Of([20, 50, 80], [1000, 2000, 3000]);
        Assert.Null(CardEnd.Of(reading, At(reading, 0, 0) with { Card = 3 }));
    }

    private static Recommendation At(Reading reading, int row, int column) => new()
    {
        Goal = Goal.Darkest, PowerPercent = reading.Plan.Columns.Values[column], SpeedMmPerMin = reading.Plan.Rows.Values[row],
        Cell = new(row, column),
    };

    private static Reading Of(ValueList<double> powers, ValueList<double> speeds)
    {
        Reading sample = Samples.Reading;
        return sample with
        {
            Plan = sample.Plan with
            {
                Columns = new() { Setting = Setting.PowerPercent, Values = powers },
                Rows = new() { Setting = Setting.SpeedMmPerMin, Values = speeds },
            },
        };
    }
}
