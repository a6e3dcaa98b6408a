using CardScan.Model;
using CardScan.Scoring.Next;
using CardScan.Scoring.Next.Design;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Tests.Next;

public sealed class GridDesignTests
{
    private static readonly SettableSteps Steps = new(1, 10, 60_000);

    [Theory]
    [InlineData(2)]
    [InlineData(4)]
    public void No_other_grid_that_holds_the_setting_is_worth_more(int seed)
    {
        CardKnowledge known = CutKnown(new SimulatedCut().Read(seed), out CellSettings about, out DoseLimits limits);
        (double[] powers, double[] speeds) = GridDesign.Best(known, about, limits, new());
        double best = WorthOf(powers, speeds);

        Chance chance = new(1);
        int compared = 0;
        for (int i = 0; i < 3000; i++)
        {
            double[] otherPowers = Drawn(about.PowerPercent, 1, 0.6 + 0.4 * chance.Uniform(), 100),
                otherSpeeds = Drawn(about.SpeedMmPerMin, 10, 0.4 + 0.6 * chance.Uniform(), 900);
            if (!limits.Allow(otherPowers[^1], otherSpeeds[0])
                || Levels.Of(otherPowers) < Levels.Fewest || Levels.Of(otherSpeeds) < Levels.Fewest)
                continue;
            compared++;
            Assert.True(WorthOf(otherPowers, otherSpeeds) <= best + 0.01);
        }

        Assert.InRange(compared, 300, 3000);

        double WorthOf(double[] p, double[] v)
        {
            DesignWorth worth = new(known, p, v, about.SpeedMmPerMin);
            double[] told = new double[worth.Laws * worth.Length];
            for (int law = 0; law < worth.Laws; law++)
                for (int i = 0; i < p.Length; i++)
                    for (int j = 0; j < v.Length; j++)
                        Information.AddTo(told.AsSpan(law * worth.Length, worth.Length), worth.CellOf(law, i, j));
            return worth.Of(told);
        }

        double[] Drawn(double held, double step, double narrow, double most)
        {
            SortedSet<double> values = [held];
            while (values.Count < 6)
            {
                double value = step * Math.Round(held * (1 + (1.001 - narrow) * 2 * (chance.Uniform() - 0.5)) / step);
                if (value >= step && value <= most) values.Add(value);
                narrow *= 0.999;
            }

            return [.. values];
        }
    }

    [Theory]
    [InlineData(20, 20, 1)]
    [InlineData(6, 6, 5)]
    [InlineData(4, 4, 1)]
    [InlineData(3, 8, 10)]
    public void A_grid_keeps_to_the_machine_holds_the_setting_and_is_not_gathered_at_two_points(int rows, int columns, double step)
    {
        SettableSteps steps = new(step, 100, 400);
        CardKnowledge cut = CutKnown(new SimulatedCut().Read(2), out CellSettings about, out _);
        DoseLimits limits = new(steps, MostDose: 0.9, LeastPower: step);

        (double[] powers, double[] speeds) = GridDesign.Best(cut, about, limits, new() { Rows = rows, Columns = columns });

        Assert.InRange(powers.Length, Math.Min(columns, 8), columns);
        Assert.Equal(rows, speeds.Length);
        Assert.Equal(powers.Distinct(), powers);
        Assert.All(powers, power => Assert.True(power >= step && power <= 100 && power % step == 0));
        Assert.All(speeds, speed => Assert.True(speed is >= 100 and <= 400 && speed % 10 == 0));
        Assert.Contains(about.PowerPercent, powers);
        Assert.Contains(about.SpeedMmPerMin, speeds);
        Assert.True(Levels.Of(powers) >= Math.Min(4, columns));
        Assert.True(Levels.Of(speeds) >= Math.Min(4, rows));
        Assert.True(powers[^1] / speeds[0] <= 0.9 + 1e-9);
    }

    [Fact]
    public void A_card_for_the_limit_of_a_cut_lies_where_sides_are_neither_sure_to_be_held_nor_to_be_through()
    {
        SimulatedCut truth = new();
        CardKnowledge known = CutKnown(truth.Read(2), out CellSettings about, out DoseLimits limits);

        (double[] powers, double[] speeds) = GridDesign.Best(known, about, limits, new());

        int between = powers.Sum(power => speeds.Count(speed => truth.Probability(power, speed, true) is > 0.05 and < 0.95));
        int before = truth.PowersPercent.Sum(power =>
            truth.SpeedsMmPerMin.Count(speed => truth.Probability(power, speed, true) is > 0.05 and < 0.95));
        Assert.True(between >= 18);
        Assert.True(before <= 12);
    }

    [Fact]
    public void A_card_for_a_full_mark_has_cells_on_the_rise_and_on_the_plateau()
    {
        SimulatedCard truth = new() { StrengthChance = 0.02 };
        BurnedCards cards = BurnedCards.Of(truth.Read(1), [], ScoringOptions.Default)!;
        Question question = Question.Of(cards.Newest, new())!;
        DoseLimits limits = DoseLimits.Of(cards.Burned, question.About, cards.End, Steps);

        (double[] powers, double[] speeds) = GridDesign.Best(cards.KnowledgeAbout(question.About, new())!, question.About, limits, new());

        double[] shares = [.. speeds.SelectMany(speed => powers.Select(power => truth.Strength(power, speed) / truth.Plateau))];
        Assert.True(shares.Count(share => share > 0.99) >= 6);
        Assert.True(shares.Count(share => share is > 0.3 and < 0.98) >= 6);
        Assert.All(powers, power => Assert.True(power / speeds[0] <= DoseLimits.Reserve * 95 / 1000 + 1e-9));
    }

    private static CardKnowledge CutKnown(Reading reading, out CellSettings about, out DoseLimits limits)
    {
        about = new() { PowerPercent = 80, SpeedMmPerMin = 260 };
        BurnedCards cards = BurnedCards.Of(reading, [], ScoringOptions.Default)!;
        limits = DoseLimits.Of(cards.Burned, about, cards.End, Steps);
        return cards.KnowledgeAbout(about, new())!;
    }
}
