using CardScan.Language;
using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

/// <summary>A corner that got a quarter less energy, smoothly towards it.</summary>
public sealed class PlaceTrendTests
{
    private static readonly SimulatedCard Card = new()
    {
        PowersPercent = [20, 29, 38, 47, 56, 65, 74, 83], SpeedsMmPerMin = [1000, 1300, 1700, 2200, 2900, 3800, 5000, 6500],
        StrengthChance = 0.02,
    };

    [Theory]
    [InlineData("top-left", false, false)]
    [InlineData("bottom-right", true, true)]
    [InlineData("top-right", true, false)]
    public void Where_the_plan_mixes_the_places_up_the_weak_corner_is_told(string corner, bool isRight, bool isBottom)
    {
        int told = 0;
        for (int seed = 1; seed <= 20; seed++)
        {
            if (CardScorer.Score(MixedUp(seed, isRight, isBottom, 0.25), ScoringOptions.Default).Advice
                .FirstOrDefault(advice => advice.Code == "place-trend") is { } advice
                && advice.Values!["corner"] == new Word(corner)) told++;
        }

        Assert.InRange(told, 16, 20);
    }

    [Fact]
    public void An_even_card_is_seldom_called_weak_in_a_corner()
    {
        int told = 0;
        for (int seed = 1; seed <= 40; seed++)
        {
            if (HasTrend(Card.Read(seed))) told++;
            if (HasTrend(MixedUp(seed, false, false, 0))) told++;
        }

        Assert.InRange(told, 0, 4);   // 5 % of 80
    }

    private static bool HasTrend(Reading reading) =>
        CardScorer.Score(reading, ScoringOptions.Default).Advice.Any(advice => advice.Code == "place-trend");

    /// <summary>The cells' places dealt out anew; what lies towards the corner has less energy.</summary>
    private static Reading MixedUp(int seed, bool isRight, bool isBottom, double lostShare)
    {
        Reading even = Card.Read(seed);
        Chance chance = new(1000 + seed);
        Cell[] places = [.. even.Plan.Cells.OrderBy(_ => chance.Uniform())];
        Plan plan = even.Plan with
        {
            Cells = even.Plan.Cells.Select((cell, i) => cell with { XMm = places[i].XMm, YMm = places[i].YMm }).ToValueList()
        };
        (double left, double right, double top, double bottom) =
            (plan.Cells.Min(c => c.XMm), plan.Cells.Max(c => c.XMm), plan.Cells.Min(c => c.YMm), plan.Cells.Max(c => c.YMm));
        return even with
        {
            Plan = plan,
            Cells = even.Cells.Select((cell, i) =>
            {
                double x = (plan.Cells[i].XMm - left) / (right - left), y = (plan.Cells[i].YMm - top) / (bottom - top);
                double part = (isRight ? x : 1 - x) * (isBottom ? y : 1 - y);
                CellSettings s = cell.Settings;
                double factor = Card.Strength(s.PowerPercent * (1 - lostShare * part), s.SpeedMmPerMin)
                    / Math.Max(Card.Strength(s.PowerPercent, s.SpeedMmPerMin), 1e-6);
                double strength = (1 - Math.Pow(10, -cell.Darkness!.Value)) * factor;
                return cell with { Darkness = cell.Darkness with { Value = -Math.Log10(1 - strength) } };
            }).ToValueList(),
        };
    }
}
