using CardScan.Model;
using CardScan.Scoring.Next;
using CardScan.Scoring.Next.Design;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Tests.Next;

public sealed class FarEndTests
{
    private static readonly Reading Cut = new SimulatedCut().Read(1);

    [Fact]
    public void A_mark_that_weakens_ends_at_the_peak_of_its_model()
    {
        Reading card = Marks("weakens-at-high-dose") with
        {
            Model = new() { Name = "rise-then-fall", Parameters = new([new("peakDose", new(2.0, 0.1))]), Diagnostics = new([]) }
        };

        // 10 W at 100 % and 3000 mm/min, 0.1 mm apart: 10 · 60 / (3000 · 0.1) = 2 J/mm².
        Assert.Equal(100.0 / 3000, FarEnd.Of([card]).MostDose, 9);
    }

    [Fact]
    public void Without_a_peak_it_ends_at_the_highest_dose_burned()
    {
        FarEnd end = FarEnd.Of([Marks("weakens-at-high-dose")]);

        Assert.Equal(95.0 / 1000, end.MostDose, 9);
        Assert.Equal(95.0 / 1000, DoseLimits.Of(BurnedRange.Of(Marks("").Cells)!, About, end, new(1, 10, 60_000)).MostDose, 9);
        Assert.Equal(DoseLimits.Reserve * 95.0 / 1000,
            DoseLimits.Of(BurnedRange.Of(Marks("").Cells)!, About, FarEnd.None, new(1, 10, 60_000)).MostDose, 9);
    }

    [Fact]
    public void A_cut_that_closes_again_ends_where_cells_came_through()
    {
        Reading card = Cut with
        {
            Advice = [new Advice("closes-again", "held again")],
            Cells = Cut.Cells.Select(cell => cell with
            {
                Through = cell.Settings is { SpeedMmPerMin: >= 200 and < 300, PowerPercent: < 80 } ? Opening.Through : Opening.Closed
            }).ToValueList(),
        };

        FarEnd end = FarEnd.Of([card]);

        Assert.Equal(200, end.Slowest);
        Assert.Equal(70.0 / 200, end.MostDose, 9);
        Assert.False(end.IsBefore(About with { PowerPercent = 40, SpeedMmPerMin = 150 }));
        Assert.False(end.IsBefore(About with { PowerPercent = 80, SpeedMmPerMin = 200 }));
        Assert.True(end.IsBefore(About with { PowerPercent = 70, SpeedMmPerMin = 200 }));
    }

    [Fact]
    public void No_card_is_planned_past_a_known_end()
    {
        SimulatedCard rise = new() { StrengthChance = 0.01, DarknessError = 0.005, ScaleDose = 0.5 };
        Reading card = rise.Read(1);
        // Past 3 J/mm² a third of the mark is lost.
        card = card with
        {
            Cells = card.Cells.Select(cell => cell with
            {
                Darkness = cell.Darkness! with { Value = cell.Darkness.Value * (DoseOf(cell) > 3 ? 0.55 : 1) }
            }).ToValueList()
        };
        BurnedCards cards = BurnedCards.Of(card, [], ScoringOptions.Default)!;
        Assert.Contains(cards.Newest.Advice, advice => advice.Code == "weakens-at-high-dose");

        NextRanges next = NextCard.Plan(card, new()).Value;

        double most = next.PowersPercent[^1] / next.SpeedsMmPerMin[0];
        Assert.True(cards.End.IsKnown);
        Assert.True(most <= Math.Max(cards.End.MostDose, next.About.PowerPercent / next.About.SpeedMmPerMin) + 1e-9);

        static double DoseOf(CellReading cell) => cell.Settings.PowerPercent / 100 * 10 * 60 / (cell.Settings.SpeedMmPerMin * 0.1);
    }

    private static CellSettings About { get; } = new() { PowerPercent = 65, SpeedMmPerMin = 2200 };

    private static Reading Marks(string code)
    {
        Reading card = new SimulatedCard().Read(1);
        return card with
        {
            Advice = [new Advice(code, "as the scoring says")],
            Cells = card.Cells.Select(cell => cell with { Dose = card.Plan.DoseOf(cell.Settings) }).ToValueList(),
        };
    }
}
