using CardScan.Scoring.Cutting;
using CardScan.Scoring.Fitting;
using CardScan.Scoring.Next.Knowledge;

namespace CardScan.Scoring.Tests.Next;

public sealed class PlausibleLawTests
{
    [Fact]
    // D-optimal points of the two-parameter logistic model: responses 0.176 and 0.824, logits ±1.5434 (K. M. Abdelbasit,
    // R. L. Plackett, JASA 78 (1983) 90–98; figures from memory). One side in a hundred that nothing explains moves them little.
    public void Two_powers_tell_most_of_a_logistic_step_at_the_published_responses()
    {
        const double steepness = 20;
        PlausibleSides law = new([Math.Log(50), Math.Log(steepness), 1, 0], inflation: 1, middleLnSpeed: 0);

        double best = Enumerable.Range(50, 250).Select(i => i / 100.0).MaxBy(logit =>
        {
            double[] told = Information.None(law);
            law.AddSides(told, Math.Log(50) + logit / steepness, 0, isAlongY: false, 1);
            law.AddSides(told, Math.Log(50) - logit / steepness, 0, isAlongY: false, 1);
            // Place and steepness are the first two parameters.
            return told[0] * told[2] - told[1] * told[1];
        });

        Assert.InRange(best, 1.45, 1.55);
    }

    [Fact]
    public void The_gradients_of_a_mark_are_those_of_its_strength_and_limit()
    {
        double[] at = [0.8, 4, 0.5, 0.9, 0.4, 0, 0, 0, 0, 0, 0];
        MarkChance even = new(DarknessError: 0, Share: 1, IsLighter: false);
        const double middle = 7.6, lnPower = 4.1, lnSpeed = 7.9, step = 1e-6;
        PlausibleMark law = new(at, even, middle, 0.95);
        double[] told = Information.None(law), gradient = new double[law.Size];
        law.Add(told, lnPower, lnSpeed);
        law.LimitGradient(lnSpeed, gradient);

        double strength = PlausibleMark.StrengthAt(at, lnPower, lnSpeed - middle);
        for (int j = 0; j < PlausibleMark.CurveParameters; j++)
        {
            double[] above = [.. at], below = [.. at];
            above[j] += step;
            below[j] -= step;
            double slope =
                (PlausibleMark.StrengthAt(above, lnPower, lnSpeed - middle) - PlausibleMark.StrengthAt(below, lnPower, lnSpeed - middle))
                / (2 * step);
            Assert.Equal(slope * slope / (strength * strength), told[j * (j + 3) / 2], 6);
            double limit = (new PlausibleMark(above, even, middle, 0.95).LnLimit(lnSpeed)
                - new PlausibleMark(below, even, middle, 0.95).LnLimit(lnSpeed)) / (2 * step);
            Assert.Equal(limit, gradient[j], 5);
        }

        // At the limit the mark is the stated share of the plateau.
        Assert.Equal(0.95 * 0.8, PlausibleMark.StrengthAt(at, law.LnLimit(lnSpeed), lnSpeed - middle), 9);
    }

    [Theory]
    [InlineData(1e-3, 1.5, 0.3934693402873666)] // 1 − exp(−e^z) at z = ln ½: the saturating exponential
    [InlineData(1, 1.5, 0.3333333333333333)]    // e^z / (1 + e^z) there: the logistic curve
    public void Its_bend_leads_from_the_saturating_to_the_logistic_curve(double bend, double shape, double share)
    {
        double[] law = [1, 0, Math.Log(shape), 1, bend];

        Assert.Equal(share, PlausibleMark.StrengthAt(law, Math.Log(0.5) / shape, 0), 3);
    }

    [Fact]
    // Variance of a mean over one card: σ²/n + τ², that of n cells and of the card's own chance.
    public void More_cells_of_one_card_do_not_tell_more_than_its_own_chance_leaves()
    {
        PlausibleSides law = new([4, 3, 1, 0], inflation: 1, middleLnSpeed: 0);
        double[] card = Information.None(law);
        card[0] = 400 / (0.2 * 0.2);

        double[] left = Information.WithOwnChance(card, law);

        Assert.Equal(0.2 * 0.2 / 400 + PieceSpread.Usual * PieceSpread.Usual, 1 / left[0], 12);
    }

    [Fact]
    public void Cholesky_solves_what_it_factors()
    {
        double[] matrix = [4, 2, 5, 1, 3, 6];   // rows of the lower triangle
        double[] root = new double[6];

        Assert.True(SmallMatrix.TryFactor(matrix, 3, root, out double lnDeterminant));

        // det = 4·(30 − 9) − 2·(12 − 3) + 1·(6 − 5) = 67; the (3, 3) element of the inverse is (4·5 − 2·2) / 67.
        Assert.Equal(Math.Log(67), lnDeterminant, 12);
        Assert.Equal(16.0 / 67, SmallMatrix.QuadraticOfInverse(root, [0, 0, 1]), 12);
        Assert.False(SmallMatrix.TryFactor([1, 2, 1], 2, new double[3], out _));
    }
}
