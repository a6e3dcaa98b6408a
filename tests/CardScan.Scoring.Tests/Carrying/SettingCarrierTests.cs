using CardScan.Model;
using CardScan.Scoring.Carrying;
using CardScan.Scoring.Comparing;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Tests.Carrying;

/// <summary>A setting on a machine that did not burn it.</summary>
public sealed class SettingCarrierTests
{
    private const int Runs = 1000;

    /// <summary>So many alike materials leave 1.25 for the factor, give or take a little.</summary>
    private static readonly MachineShift Known = MachineShift.Of(
        Enumerable.Range(0, 40).Select(i => new BurnedOnBoth($"{i}", Math.Log(1.25), 0.01)).ToValueList());

    /// <summary>Line energy is power over speed: twice the watts allow twice the speed, and 1.25 times the need 1/1.25 of that.</summary>
    [Fact]
    public void At_the_same_power_the_speed_follows_watts_and_need()
    {
        CarriedSetting carried = SettingCarrier.Carry(Setting(Goal.FastestFullMark), Known, watts: 2, fastestMmPerMin: null);

        Assert.Equal((1600, 80), (carried.SpeedMmPerMin, carried.PowerPercent));
        Assert.Equal(1600, carried.Speed.Value);
    }

    [Theory]
    [InlineData(Goal.SureCut)]
    [InlineData(Goal.CleanCut)]
    public void A_cut_is_tried_at_the_careful_end_on_a_sheet_of_any_delivery(string goal)
    {
        CarriedSetting carried = SettingCarrier.Carry(Setting(goal), Known, watts: 2, fastestMmPerMin: null);

        Assert.Equal(carried.Speed.Low, carried.SpeedMmPerMin);
        Assert.True(carried.Speed.Low < carried.SameDelivery.Low && carried.SameDelivery.Low < 1600);
    }

    [Fact]
    public void Where_speed_counts_for_less_than_power_it_changes_more() => Assert.Equal(
        Math.Round(1000 * Math.Pow(1.6, 1 / 0.8) / 10) * 10,
        SettingCarrier.Carry(Setting(Goal.Darkest, exponent: 0.8), Known, watts: 2, fastestMmPerMin: null).SpeedMmPerMin);

    [Fact]
    public void Beyond_the_fastest_feed_the_power_is_lowered_and_the_energy_stays()
    {
        CarriedSetting carried = SettingCarrier.Carry(Setting(Goal.Darkest), Known, watts: 8, fastestMmPerMin: 3200);

        Assert.Equal((3200, 40), (carried.SpeedMmPerMin, carried.PowerPercent));
    }

    /// <summary>E. C. Fieller, J. R. Statist. Soc. B 16 (1954) 175–185: the limits of a ratio of two normal estimates.</summary>
    [Fact]
    public void With_a_factor_that_is_known_the_limits_are_those_of_Fieller()
    {
        const double exponent = 0.9, exponentError = 0.2, error = 0.3;
        SettingToCarry old = Setting(Goal.Darkest, exponent, exponentError, error);

        Interval speed = SettingCarrier.Carry(old, Known, watts: 3, fastestMmPerMin: null).SameDelivery;

        // What the shift itself leaves open, though little, is part of the numerator's variance.
        double own = Math.Log(Known.Factor.High / Known.Factor.Low) / 3.92, ln = Math.Log(3 / 1.25);
        Interval ratio = Fieller(ln, own * own + error * error, exponent, exponentError * exponentError);
        Assert.Equal(1000 * Math.Exp(ratio.Low), speed.Low, 0.015 * speed.Low);
        Assert.Equal(1000 * Math.Exp(ratio.High), speed.High, 0.015 * speed.High);
    }

    /// <summary>An exponent that may as well be 0 bounds no speed: the limits are then far, and no failure.</summary>
    [Fact]
    public void An_exponent_that_is_hardly_known_leaves_the_speed_open()
    {
        Interval speed = SettingCarrier.Carry(Setting(Goal.Darkest, 0.5, 0.4), Known, watts: 2, fastestMmPerMin: null).Speed;

        Assert.True(speed.Low < 100, $"{speed.Low}");
        Assert.True(speed.High > 100_000, $"{speed.High}");
    }

    public static TheoryData<int, double, double, double> Cases
    {
        get
        {
            TheoryData<int, double, double, double> cases = [];
            foreach (int cards in (int[])[0, 1, 3, 10])
            {
                foreach (double spread in (double[])[0.05, 0.1, 0.3])
                    foreach ((double own, double exponent) in ((double, double)[])[(0.03, 0.02), (0.15, 0.05), (0.05, 0.3)])
                        cases.Add(cards, spread, own, exponent);
            }

            return cases;
        }
    }

    /// <summary>
    /// The truth: the material needs its own energy at the middle speed of its card, which tells it with an error; its own β likewise;
    /// the new machine a factor of its own; and a sheet of another delivery another one. The right speed gives as much more than is
    /// needed as the old setting gave by its card. The aim is 0.92, three standard deviations of the simulation are allowed for.
    /// </summary>
    [Theory]
    [MemberData(nameof(Cases))]
    public void The_stated_interval_holds_the_right_speed_as_often_as_it_says(int cards, double spread, double own, double exponentError)
    {
        const double watts = 2.4, middle = 1500, setting = 3000, cardError = 0.05;
        Random random = new(1000 * cards + (int)(1000 * spread) + (int)(100_000 * own));
        int any = 0, same = 0;
        for (int run = 0; run < Runs; run++)
        {
            double common = Normal.Sample(random, 0, Math.Log(2)), exponent = Normal.Sample(random, 1, 0.1);
            MachineShift shift = MachineShift.Of(Enumerable.Range(0, cards).Select(i => new BurnedOnBoth(
                $"{i}", Normal.Sample(random, Normal.Sample(random, common, spread), cardError), cardError)).ToValueList());
            double factor = Normal.Sample(random, common, spread), delivery = Normal.Sample(random, 0, Math.Log(1.25));
            // No card tells an exponent below 0.5.
            (double ownMiss, double exponentTold) =
                (Normal.Sample(random, 0, own), Math.Max(0.5, Normal.Sample(random, exponent, exponentError)));

            CarriedSetting carried = SettingCarrier.Carry(
                new(Goal.Darkest, 80, setting, new(0, own, middle, exponentTold, exponentError)), shift, watts, null);

            // ln of the right speed over the middle one: by the card's own β the setting was judged at its own speed.
            double reach = exponentTold * Math.Log(setting / middle) + Math.Log(watts) - factor - ownMiss;
            if (Holds(carried.SameDelivery, middle * Math.Exp(reach / exponent))) same++;
            if (Holds(carried.Speed, middle * Math.Exp((reach - delivery) / exponent))) any++;
        }

        double least = (0.92 - 3 * Math.Sqrt(0.92 * 0.08 / Runs)) * Runs;
        Assert.True(same >= least && any >= least, $"{same} and {any} of {Runs}");
    }

    /// <summary>
    /// The same of scored cards, their law being known: the old setting gives a certain part more than a full mark takes by its card, and
    /// the right speed does by the law. Of 60, at least 51 hold it (probability 0.9999 were each 95 %).
    /// </summary>
    [Fact]
    public void What_a_card_leaves_open_of_its_own_full_mark_is_in_the_interval()
    {
        const int cards = 60;
        const double watts = 2.4;
        SimulatedCard card = new() { StrengthChance = 0.03 };
        double full = card.ThresholdDose
            + card.ScaleDose * Math.Pow(-Math.Log(1 - 0.95 * card.Strongest / card.Plateau), 1 / card.Shape);
        int held = Enumerable.Range(0, cards).Count(seed =>
        {
            Reading reading = CardScorer.Score(card.Read(seed), new());
            Recommendation setting = reading.Recommendations.Single(each => each.Goal == Goal.FastestFullMark);
            (double lnTold, _) = TransferChance.BoundaryAt(reading, setting.SpeedMmPerMin)!.Value;
            double lnTrue = Math.Log(100 * full / card.EffectiveDose(100, setting.SpeedMmPerMin));
            SettingToCarry old = SettingToCarry.Of(reading, new()
            {
                Goal = setting.Goal, PowerPercent = setting.PowerPercent, SpeedMmPerMin = setting.SpeedMmPerMin, Reason = "",
            });

            double reach = Math.Log(watts / 1.25) - (lnTrue - lnTold);
            return Holds(SettingCarrier.Carry(old, Known, watts, null).SameDelivery,
                setting.SpeedMmPerMin * Math.Exp(reach / card.SpeedExponent));
        });
        Assert.True(held >= 51, $"{held} of {cards}");
    }

    private static bool Holds(Interval interval, double value) => value >= interval.Low && value <= interval.High;

    private static SettingToCarry Setting(string goal, double exponent = 1, double exponentError = 0.05, double error = 0.03) =>
        new(goal, 80, 1000, new(0, error, 1000, exponent, exponentError));

    /// <summary>95 % limits of a/b: the roots x of (a − b·x)² = z² · (Var a + x² · Var b), the estimates being independent.</summary>
    private static Interval Fieller(double a, double varianceA, double b, double varianceB)
    {
        double z2 = Math.Pow(Normal.InvCDF(0, 1, 0.975), 2), g = b * b - z2 * varianceB;
        double root = Math.Sqrt(a * a * b * b - g * (a * a - z2 * varianceA));
        return new("", a / b, (a * b - root) / g, (a * b + root) / g);
    }
}
