using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Comparing;

/// <summary>Two cards in one photo.</summary>
public sealed class OneLightTests
{
    private const double TrueRatio = 1.15;

    private static readonly SimulatedCard Card = new() { DarknessError = 0.01, StrengthChance = 0.02 };

    private static readonly SimulatedCard Later =
        Card with { ThresholdDose = Card.ThresholdDose * TrueRatio, ScaleDose = Card.ScaleDose * TrueRatio };

    [Theory]
    [InlineData(1)]
    [InlineData(1.08)]
    [InlineData(0.9)]
    public void What_the_light_does_to_one_card_is_taken_out_by_the_markers(double drawnOut)
    {
        int held = 0, heldWithout = 0;
        for (int seed = 1; seed <= 10; seed++)
        {
            (Reading first, Reading later) = Pair(drawnOut, seed);
            RelativeDose dose = Compare(first, later).RelativeDose!, without = Compare(Apart(first), later).RelativeDose!;
            if (dose.Low <= TrueRatio && TrueRatio <= dose.High) held++;
            if (without.Low <= TrueRatio && TrueRatio <= without.High) heldWithout++;
            Assert.InRange(dose.Value, TrueRatio / 1.08, TrueRatio * 1.08);
        }

        // Nominal 95 %: at most one of ten by chance.
        Assert.InRange(held, 9, 10);
        if (drawnOut != 1) Assert.InRange(heldWithout, 0, 5);
    }

    [Fact]
    public void The_doubt_of_unlike_photos_is_left_out_and_one_light_is_told()
    {
        (Reading first, Reading later) = Pair(1.08, seed: 1);

        ComparedPair together = Compare(first, later), apart = Compare(Apart(first), later);

        Assert.DoesNotContain(together.Notes, note => note.Code == "unlike-photos");
        Assert.Contains("8 % stronger", Assert.Single(together.Notes, note => note.Code == "one-light").Message, StringComparison.Ordinal);
        Assert.Contains(apart.Notes, note => note.Code == "unlike-photos");
        Assert.DoesNotContain(apart.Notes, note => note.Code == "one-light");
    }

    [Fact]
    public void What_the_markers_leave_open_widens_the_interval()
    {
        (Reading first, Reading later) = Pair(1, seed: 1, faintness: 4);

        RelativeDose sure = Compare(first, later).RelativeDose!;
        RelativeDose open = Compare(first, WithMarkers(later, new(0.7, 0.05))).RelativeDose!;

        Assert.True(Math.Log(open.High / open.Low) > 1.2 * Math.Log(sure.High / sure.Low), $"{open} beside {sure}");
    }

    [Fact]
    public void Markers_that_no_light_could_have_made_so_unlike_are_a_doubt_and_no_correction()
    {
        (Reading first, Reading later) = Pair(1, seed: 2, faintness: 4);

        RelativeDose asRead = Compare(first, later).RelativeDose!;
        RelativeDose doubted = Compare(first, WithMarkers(later, new(0.5, 0.005))).RelativeDose!;

        Assert.InRange(TrueRatio, doubted.Low, doubted.High);
        Assert.True(Math.Log(doubted.High / doubted.Low) > 1.5 * Math.Log(asRead.High / asRead.Low), $"{doubted} beside {asRead}");
    }

    [Fact]
    public void Nothing_is_taken_out_between_cut_cards()
    {
        SimulatedCut cut = new(), other = new() { HalfwayPowerAt260 = 62 * 1.18 };
        Reading first = WithMarkers(cut.Read(1) with { PlanSha256 = new('1', 64) }, new(0.7, 0.005));
        Reading later = WithMarkers(other.Read(2) with { PlanSha256 = new('2', 64) }, new(0.75, 0.005));

        ComparedPair pair = Compare(first, later);

        Assert.NotNull(pair.RelativeDose);
        Assert.DoesNotContain(pair.Notes, note => note.Code == "one-light");
    }

    /// <summary>A later card that needs more energy, and whose light draws out all its marks.</summary>
    /// <param name="drawnOut">By how much.</param>
    /// <param name="seed">Of what is left to chance.</param>
    /// <param name="faintness">How much more energy than usual both need: where marks do not saturate, a stretch looks like energy.</param>
    private static (Reading First, Reading Later) Pair(double drawnOut, int seed, double faintness = 1)
    {
        Reading first = Needing(Card).Read(seed), later = OneLight.Stretched(Needing(Later).Read(100 + seed), drawnOut);
        return (WithMarkers(first with { PlanSha256 = new('1', 64) }, new(0.7, 0.005)),
            WithMarkers(later with { PlanSha256 = new('2', 64) }, new(0.7 * drawnOut, 0.005)));

        SimulatedCard Needing(SimulatedCard card) => card with
        {
            ThresholdDose = faintness * card.ThresholdDose, ScaleDose = faintness * card.ScaleDose,
        };
    }

    private static Reading Apart(Reading reading) => reading with
    {
        Photos = reading.Photos.Select(photo => photo with { Sha256 = new('b', 64) }).ToValueList(),
    };

    private static Reading WithMarkers(Reading reading, Measured darkness) => reading with
    {
        Photos =
        [
            new()
            {
                File = "both.jpg", Sha256 = new('a', 64), Light = Light.Front, WidthPx = 4000, HeightPx = 3000,
                Quality = new() { DarknessScaleError = 0.15, MarkerDarkness = darkness },
            },
        ],
    };

    private static ComparedPair Compare(Reading first, Reading later) =>
        CardComparer.Compare([new("old", first), new("new", later)], new()).Value.Pairs[0];
}
