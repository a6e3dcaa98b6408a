using CardScan.Model;
using CardScan.Scoring.Cutting;
using CardScan.Scoring.Next;

namespace CardScan.Scoring.Tests.Next;

public sealed class GridSearchTests
{
    private static readonly SettableSteps Steps = new(1, 10, 60_000);

    [Fact]
    // D-optimal points of the two-parameter logistic model: responses 0.176 and 0.824, logits ±1.5434 (K. M. Abdelbasit,
    // R. L. Plackett, JASA 78 (1983) 90–98; figures from memory).
    public void Two_powers_of_a_logistic_card_lie_at_the_published_D_optimal_responses()
    {
        const double exponent = 20;
        double halfway = 46 * Math.Exp(1.5434 / exponent);
        LogisticInPower card = new(exponent, halfway);
        CellSettings about = new() { PowerPercent = 46, SpeedMmPerMin = 200 };

        (double[] powers, _) = GridSearch.Best(card, about, Steps, new() { Columns = 2, Rows = 2 }, mostDose: 10);

        // Steps of 1 %, 2 %, … 6 %, 8 %, 10 %: the published upper point is 53.7 %.
        Assert.Equal([46.0, 54.0], powers);
    }

    [Fact]
    public void No_other_even_grid_about_the_same_setting_tells_more()
    {
        SimulatedCut truth = new();
        CardKnowledge card = Knowledge(truth, 4, out CellSettings about);
        (double[] powers, double[] speeds) = GridSearch.Best(card, about, Steps, new(), mostDose: 1);
        double best = Information.LnDeterminant(Information.OfGrid(card, powers, speeds, withKnown: true));

        Assert.Contains(about.PowerPercent, powers);
        Assert.Contains(about.SpeedMmPerMin, speeds);
        Chance chance = new(1);
        int compared = 0;
        for (int i = 0; i < 3000; i++)
        {
            double[] otherPowers = Even(about.PowerPercent, 1 + (int)(12 * chance.Uniform()), 1 + (int)(4 * chance.Uniform()));
            double[] otherSpeeds = Even(about.SpeedMmPerMin, 10 * (1 + (int)(6 * chance.Uniform())), 1 + (int)(4 * chance.Uniform()));
            if (otherPowers[^1] > 100 || otherPowers[0] < about.PowerPercent / 2 || otherSpeeds[0] < about.SpeedMmPerMin / 2 || otherSpeeds[^1] > 2 * about.SpeedMmPerMin) continue;
            if (card.OpenCells(otherPowers, otherSpeeds) < 18) continue;
            compared++;
            Assert.True(Information.LnDeterminant(Information.OfGrid(card, otherPowers, otherSpeeds, withKnown: true)) <= best + 0.02);
        }

        Assert.InRange(compared, 100, 3000);

        static double[] Even(double about, double step, int below) => [.. Enumerable.Range(0, 6).Select(i => about + (i - below) * step)];
    }

    [Theory]
    [InlineData(20, 20, 1)]
    [InlineData(6, 6, 5)]
    [InlineData(3, 8, 10)]
    public void Axes_are_even_within_the_machine_and_hold_the_setting(int rows, int columns, double step)
    {
        CardKnowledge card = Knowledge(new(), 2, out CellSettings about);

        (double[] powers, double[] speeds) = GridSearch.Best(card, about, new(step, 100, 400), new() { Rows = rows, Columns = columns }, mostDose: 1);

        Assert.InRange(powers.Length, 2, columns);
        Assert.InRange(speeds.Length, 2, rows);
        Assert.All(powers, power => Assert.InRange(power, step, 100));
        Assert.All(speeds, speed => Assert.InRange(speed, 100, 400));
        Assert.Contains(about.PowerPercent, powers);
        Assert.Single(powers.Zip(powers.Skip(1), (a, b) => Math.Round(b - a, 6)).Distinct());
        Assert.Single(speeds.Zip(speeds.Skip(1), (a, b) => Math.Round(b - a, 6)).Distinct());
    }

    private static CardKnowledge Knowledge(SimulatedCut truth, int seed, out CellSettings about)
    {
        CutCard card = CutCard.Of(truth.Read(seed));
        about = new() { PowerPercent = 80, SpeedMmPerMin = 260 };
        return CutKnowledge.Of(CutModel.Fit(card)!, card, about)!;
    }

    /// <summary>A logistic model of power alone; the other two parameters are known.</summary>
    private sealed class LogisticInPower : CardKnowledge
    {
        private readonly double _exponent;
        private readonly double _halfway;

        public LogisticInPower(double exponent, double halfway)
        {
            (_exponent, _halfway) = (exponent, halfway);
            (Known[0, 0], Known[1, 1], Known[2, 2], Known[3, 3]) = (1e-9, 1e-9, 1, 1);
        }

        public override void Add(double[,] information, double lnPower, double lnSpeed)
        {
            double x = lnPower - Math.Log(_halfway), p = 1 / (1 + Math.Exp(-_exponent * x)), weight = p * (1 - p);
            information[0, 0] += weight;
            information[1, 0] += weight * x;
            information[0, 1] += weight * x;
            information[1, 1] += weight * x * x;
        }

        public override double LnLimit(double lnSpeed) => Math.Log(_halfway);

        public override double[] LimitGradient(double lnSpeed) => [-1 / _exponent, 0, 0, 0];

        public override bool IsOpen(double lnPower, double lnSpeed) => true;
    }
}
