using CardScan.Model;
using CardScan.Scoring.Carrying;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Tests.Carrying;

/// <summary>What a few cards on a new machine tell of the materials that were not burned on it.</summary>
public sealed class MachineShiftTests
{
    private const double CardError = 0.05;

    private const int Runs = 1000;

    /// <summary>How materials shift, for the simulation.</summary>
    public enum Law
    {
        Normal,

        /// <summary>Student's t on three degrees of freedom, of the same standard deviation.</summary>
        HeavyTails,

        /// <summary>Normal, but for one burned material that is 2.2 times as hungry, or as frugal.</summary>
        OneOdd,
    }

    public static TheoryData<Law, int, double> Cases
    {
        get
        {
            TheoryData<Law, int, double> cases = [];
            foreach (Law law in Enum.GetValues<Law>())
            {
                foreach (int cards in (int[])[1, 2, 3, 4, 6, 10])
                    foreach (double spread in (double[])[0.05, 0.1, 0.3]) cases.Add(law, cards, spread);
            }

            return cases;
        }
    }

    /// <summary>The aim is 0.92; three standard deviations of the simulation itself are allowed for.</summary>
    [Theory]
    [MemberData(nameof(Cases))]
    public void The_stated_interval_holds_the_truth_as_often_as_it_says(Law law, int cards, double spread)
    {
        Random random = new(1000 * cards + (int)(1000 * spread) + (int)law);
        int held = Enumerable.Range(0, Runs).Count(_ =>
        {
            double common = Normal.Sample(random, 0, Math.Log(2));
            double[] shifts = [.. Enumerable.Range(0, cards + 1).Select(_ => common + spread * Drawn(law, random))];
            if (law == Law.OneOdd) shifts[0] += random.Next(2) == 0 ? 0.8 : -0.8;
            ValueList<BurnedOnBoth> burned = shifts.Take(cards)
                .Select((shift, i) => new BurnedOnBoth($"{i}", Normal.Sample(random, shift, CardError), CardError)).ToValueList();
            return MachineShift.Of(burned).Below(shifts[cards]) is > 0.025 and < 0.975;
        });
        Assert.True(held >= (0.92 - 3 * Math.Sqrt(0.92 * 0.08 / Runs)) * Runs, $"{held} of {Runs}");
    }

    [Fact]
    public void Every_card_narrows_what_is_stated_and_the_watts_alone_leave_a_factor_of_five_or_six_either_way()
    {
        double[] widths = [.. new[] { 0, 1, 2, 3, 5, 10 }.Select(cards => Width(MachineShift.Of(Alike(cards))))];

        Assert.InRange(widths[0], 2 * Math.Log(5), 2 * Math.Log(6.5));
        Assert.Equal(widths.OrderDescending(), widths);
        Assert.InRange(widths[^1], 0.1, 0.7);
        Assert.Equal(1.0, MachineShift.Of([]).Factor.Value, 1e-6);
        MachineShift two = MachineShift.Of(Alike(2));
        Assert.InRange(Width(two.WithOneMore(CardError)), Width(MachineShift.Of(Alike(5))), Width(two));
    }

    /// <summary>
    /// Twelve materials: cards on the new machine until every other one is known to within a factor, where starting over takes a
    /// card for each of them.
    /// </summary>
    [Theory]
    [InlineData(0.05, 1.3, 6.5)]
    [InlineData(0.05, 1.5, 4.7)]
    [InlineData(0.1, 1.3, 10.2)]
    [InlineData(0.1, 1.5, 6.6)]
    [InlineData(0.2, 1.5, 11.2)]
    public void Carrying_over_saves_cards(double spread, double within, double most)
    {
        const int materials = 12, archives = 60;
        double cards = Enumerable.Range(0, archives).Average(archive =>
        {
            Random random = new(archive);
            double common = Normal.Sample(random, 0, Math.Log(2));
            BurnedOnBoth[] burned = [.. Enumerable.Range(0, materials).Select(i => new BurnedOnBoth(
                $"{i}", Normal.Sample(random, common, double.Hypot(spread, CardError)), CardError))];
            return Enumerable.Range(0, materials).FirstOrDefault(
                count => Width(MachineShift.Of([.. burned.Take(count)])) < 2 * Math.Log(within), materials);
        });
        Assert.True(cards <= most, $"{cards} of {materials}");
    }

    [Fact]
    public void A_material_that_the_others_do_not_let_expect_is_named_and_left_out_and_widens_the_rest()
    {
        BurnedOnBoth odd = new("mirror", 1.5, CardError);
        MachineShift shift = MachineShift.Of([.. Alike(5), odd]), without = MachineShift.Of(Alike(5));

        Assert.Equal([odd], shift.Odd);
        Assert.Equal(Alike(5), shift.Pooled);
        Assert.Equal(without.Factor.Value, shift.Factor.Value, 0.05);
        Assert.True(Width(shift) > Width(without));
        Assert.Empty(MachineShift.Of([.. Alike(2), odd]).Odd);
    }

    private static double Drawn(Law law, Random random) =>
        law == Law.HeavyTails ? StudentT.Sample(random, 0, 1, 3) / Math.Sqrt(3) : Normal.Sample(random, 0, 1);

    private static ValueList<BurnedOnBoth> Alike(int cards) =>
        Enumerable.Range(0, cards).Select(i => new BurnedOnBoth($"wood {i}", 0.2 + 0.05 * (i % 3 - 1), CardError)).ToValueList();

    private static double Width(MachineShift shift) => Math.Log(shift.Factor.High / shift.Factor.Low);
}
