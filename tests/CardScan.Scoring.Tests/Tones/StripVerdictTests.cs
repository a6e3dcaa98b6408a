using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Tones;

/// <summary>What a grey strip is told to be good for.</summary>
public sealed class StripVerdictTests
{
    private static readonly Plan Strip = new SimulatedCard().Plan with
    {
        Number = 4,
        Kind = CardKind.GreyStrip,
        Columns = new() { Setting = Setting.PrintedDensity, Values = [0.1, 0.3, 0.5, 0.7, 0.9, 1.1, 1.2, 1.3] },
        Rows = new() { Setting = Setting.Passes, Values = [1] },
        Fixed = new(),
        Cells = Enumerable.Range(0, 8)
            .Select(i => new Cell { Row = 0, Column = i, XMm = 10 * i, YMm = 0, WidthMm = 7, HeightMm = 7 }).ToValueList(),
    };

    [Fact]
    public void One_photo_leaves_its_greys_unknown_and_a_series_tells_them()
    {
        Reading one = Score(Read(response: null)), series = Score(Read(new(PhotoResponse.Series, [0, 0, 0, 0, 0])));

        Assert.Equal("strip-unknown", Assert.Single(one.Advice).Code);
        Advice known = Assert.Single(series.Advice);
        Assert.Equal("strip-known", known.Code);
        Assert.Contains("8 greys are known, from density 0.10 to 0.80, to within 5 %", known.Message, StringComparison.Ordinal);
        Assert.All([one, series], reading => Assert.Empty(reading.Recommendations));
        Assert.Equal(Usability.GreyStrip, Judgement.Of(one).Usability);
    }

    [Fact]
    public void Greys_that_are_only_brought_to_a_photo_are_not_known() => Assert.Equal("strip-unknown", Assert.Single(Score(Read(
        new(PhotoResponse.Card, [0, 0, 0, 0, 0]) { Scale = new("x", 0.02, 0.15, IsKnown: false) })).Advice).Code);

    [Fact]
    public void It_is_no_card_to_plan_by_to_join_or_to_compare()
    {
        Reading strip = Read(response: null), card = new SimulatedCard().Read(1);

        Assert.Contains("printed, not burned", NextCard.Plan(strip, new()).Refusal!.Seen, StringComparison.Ordinal);
        Assert.Contains("card 4 is a grey strip", CardJoin.Obstacle(card, strip)!.Seen, StringComparison.Ordinal);
        Assert.Equal("compare-strip", CardComparer.Compare([new("card", card), new("strip", strip)], new()).Refusal!.Code);
    }

    private static Reading Score(Reading reading) => CardScorer.Score(reading, new());

    private static Reading Read(PhotoResponse? response) => new()
    {
        Format = Reading.CurrentFormat,
        Plan = Strip,
        Photos =
        [
            new()
            {
                File = "a.jpg", Sha256 = new('a', 64), Light = Light.Front, WidthPx = 10, HeightPx = 10, PxPerMm = 10, TiltDeg = 0,
                ReprojectionRmsPx = 0, Response = response, Quality = new() { DarknessScaleError = 0.05 },
            },
        ],
        Cells = Strip.Cells.Select(cell => new CellReading
        {
            Row = cell.Row, Column = cell.Column, Settings = Strip.SettingsOf(cell), Darkness = new(0.1 * (cell.Column + 1), 0.001),
        }).ToValueList(),
    };
}
