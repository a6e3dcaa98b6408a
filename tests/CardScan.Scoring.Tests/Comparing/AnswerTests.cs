using CardScan.Model;
using CardScan.Scoring.Comparing;
using Xunit.Abstractions;

namespace CardScan.Scoring.Tests.Comparing;

/// <summary>The one answer of a comparison, against laws that are known.</summary>
public sealed class AnswerTests(ITestOutputHelper output)
{
    private const int Pairs = 40;

    private static readonly SimulatedCard Card = new() { DarknessError = 0.01, StrengthChance = 0.02 };

    /// <summary>Many levels of power at few speeds: the limit is found without a full grid.</summary>
    private static readonly SimulatedCard Row = Card with { PowersPercent = [15, 25, 35, 45, 55, 65, 75, 85, 95], SpeedsMmPerMin = [2200] };

    /// <summary>Few cells, which alone are seldom sure of a full mark.</summary>
    private static readonly SimulatedCard Small = Card with { PowersPercent = [20, 55, 95], SpeedsMmPerMin = [1000, 2200, 5000] };

    private static readonly SimulatedCut Cut = new();

    private static readonly SimulatedCut SmallCut = Cut with { PowersPercent = [50, 70, 100], SpeedsMmPerMin = [150, 260, 450] };

    public static TheoryData<string, double, SimulatedLater> Engraved => new()
    {
        { "6 × 5 after 6 × 5", 1.0, new(Card) }, { "6 × 5 after 6 × 5", 1.04, new(Card) }, { "6 × 5 after 6 × 5", 1.25, new(Card) },
        { "6 × 5 after 6 × 5", 0.8, new(Card) }, { "9 × 1 after 6 × 5", 1.12, new(Row) }, { "3 × 3 after 6 × 5", 1.0, new(Small) },
        { "3 × 3 after 6 × 5", 1.12, new(Small) },
        { "3 × 3, marks by 5 %, after 6 × 5", 1.12, new(Small with { StrengthChance = 0.05 }) },
    };

    [Theory]
    [MemberData(nameof(Engraved))]
    public void A_full_mark_comes_at_least_as_often_as_the_answer_says(string cards, double ratio, SimulatedLater later)
    {
        SimulatedCard other = later.Needing(ratio);
        Tally tally = new();
        for (int i = 0; i < Pairs; i++)
        {
            BatchAnswer answer = Answer(Card.Read(2 * i + 1), other.Read(2 * i + 2));
            // What is kept or carried over is to mark as on the first card, what its own card tells as that card's strongest.
            double least = 0.95 * (answer.Source == AnswerSource.OwnReading ? other.Strongest : Card.Strongest);
            tally.Add(answer, a => other.Strength(a.PowerPercent!.Value, a.SpeedMmPerMin!.Value) >= least ? 1 : 0);
        }

        Report($"engraved {cards}, {ratio}", tally);
    }

    [Theory]
    [InlineData(1.0, 18, false)]
    [InlineData(1.12, 18, false)]
    [InlineData(0.9, 25, false)]
    [InlineData(1.0, 40, true)]
    [InlineData(1.12, 40, true)]
    public void A_cut_comes_free_at_least_as_often_as_the_answer_says(double ratio, double steepness, bool isSmall)
    {
        SimulatedCut first = Cut with { PowerExponent = steepness },
            other = (isSmall ? SmallCut : Cut) with { PowerExponent = steepness, HalfwayPowerAt260 = ratio * Cut.HalfwayPowerAt260 };
        Tally tally = new();
        for (int i = 0; i < Pairs; i++)
        {
            tally.Add(Answer(first.Read(2 * i + 1), other.Read(2 * i + 2)),
                a => other.AllOpen(a.PowerPercent!.Value, a.SpeedMmPerMin!.Value));
        }

        Report($"cut, steepness {steepness}, {(isSmall ? "3 × 3" : "7 × 5")}, {ratio}", tally);
    }

    [Fact]
    public void The_new_cards_own_setting_is_trusted_before_one_that_is_carried_over()
    {
        ComparedPair pair = Compare(Card.Read(1), new SimulatedLater(Card).Needing(1.25).Read(2));
        BatchAnswer answer = pair.Answer!;

        Assert.Equal(AnswerSource.OwnReading, answer.Source);
        Assert.NotNull(pair.Change);
        Recommendation old = Scored(Card.Read(1)).Recommendations[0];
        string verb = (old.SpeedMmPerMin, old.PowerPercent) == (answer.SpeedMmPerMin, answer.PowerPercent) ? "Keep" : "Use";
        Assert.StartsWith(
            $"{verb} {answer.SpeedMmPerMin} mm/min at {answer.PowerPercent} % for new", answer.Lead, StringComparison.Ordinal);
        SettingChange change = pair.Change!;
        Assert.Contains($"would be {change.ToSpeedMmPerMin} mm/min at {change.ToPowerPercent} %", answer.Why, StringComparison.Ordinal);
        Assert.Contains("Trust new's own card", answer.Why, StringComparison.Ordinal);
        Assert.InRange(answer.Confidence!.Value, answer.DemandedConfidence, 1);
    }

    [Fact]
    public void What_works_is_kept_where_the_batches_are_equal()
    {
        Reading first = Scored(Card.Read(5));
        BatchAnswer answer = Compare(first, Card.Read(6), margin: 0.1).Answer!;

        Assert.Equal(AnswerSource.KeptSetting, answer.Source);
        Recommendation old = first.Recommendations[0];
        Assert.Equal((old.SpeedMmPerMin, old.PowerPercent), (answer.SpeedMmPerMin, answer.PowerPercent));
        Assert.StartsWith("Keep ", answer.Lead, StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_that_tells_nothing_gets_no_setting_but_what_to_burn_next()
    {
        SimulatedCard faint = Card with { PowersPercent = [2, 3, 4], SpeedsMmPerMin = [3000, 4000, 5000] };
        BatchAnswer answer = Compare(Card.Read(1), faint.Read(2)).Answer!;

        Assert.Equal(AnswerSource.None, answer.Source);
        Assert.Null(answer.SpeedMmPerMin);
        Assert.Null(answer.Confidence);
        Assert.StartsWith("Burn another card of new", answer.Lead, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_below_the_demanded_probability_is_not_called_one()
    {
        Reading first = Scored(Card.Read(1)), later = Scored(new SimulatedLater(Card).Needing(1.25).Read(2));
        Reading unsure = later with
        {
            Recommendations = later.Recommendations
                .Select(each => each with { Confidence = each.Confidence is null ? null : 0.7 }).ToValueList(),
            Boundary = null,
        };
        Reading untold = first with { Boundary = null };

        BatchAnswer answer = Compare(untold, unsure).Answer!;
        Assert.Equal(AnswerSource.None, answer.Source);
        Assert.Contains("you can count on 70 % for it", answer.Why, StringComparison.Ordinal);
        Assert.Equal(AnswerSource.CarriedOver, Compare(first, unsure).Answer!.Source);
        // Photos that may have bent tones differently make the factor a guess, and nothing else speaks for the setting.
        Assert.Equal(AnswerSource.None, Compare(Photographed(first, 'a', 0.5), Photographed(unsure, 'b', 0.5)).Answer!.Source);
    }

    [Fact]
    public void Each_of_three_cards_gets_its_own_answer()
    {
        Comparison comparison = CardComparer.Compare(
            [new("old", Card.Read(1)), new("new", Card.Read(2)), new("newer", new SimulatedLater(Card).Needing(1.3).Read(3))], new()).Value;

        Assert.All(comparison.Pairs, pair => Assert.NotNull(pair.Answer));
        Assert.Contains("newer", comparison.Pairs[1].Answer!.Lead, StringComparison.Ordinal);
        Assert.Contains("\"source\": \"", CardJson.Write(comparison), StringComparison.Ordinal);
    }

    private static Reading Photographed(Reading reading, char photo, double scaleError) => reading with
    {
        Photos =
        [
            new()
            {
                File = "card.jpg", Sha256 = new(photo, 64), Light = Light.Front, WidthPx = 4000, HeightPx = 3000,
                Quality = new() { DarknessScaleError = scaleError },
            },
        ],
    };

    private static Reading Scored(Reading reading) => CardScorer.Score(reading, ScoringOptions.Default);

    private static BatchAnswer Answer(Reading first, Reading later) => Compare(first, later).Answer!;

    private static ComparedPair Compare(Reading first, Reading later, double margin = 0.05) =>
        CardComparer.Compare([new("old", first), new("new", later)], new() { Margin = margin }).Value.Pairs[0];

    private void Report(string what, Tally tally)
    {
        foreach ((AnswerSource source, int count, double stated, double right) in tally.Lines)
        {
            output.WriteLine($"| {what} | {source} | {count} | {stated:P1} | {right:P1} |");
            if (source == AnswerSource.None) continue;
            // Three standard errors of as many tries leave room for chance alone.
            double slack = 3 * Math.Sqrt(Math.Max(stated * (1 - stated), 0.01) / count);
            Assert.True(right >= stated - slack, $"{what}: {source} stated {stated}, right {right}, of {count}");
        }
    }

    /// <summary>The later of two cards, as it would be without a difference of energy.</summary>
    public sealed class SimulatedLater
    {
        private readonly SimulatedCard _card;

        internal SimulatedLater(SimulatedCard card) => _card = card;

        internal SimulatedCard Needing(double ratio) =>
            _card with { ThresholdDose = ratio * _card.ThresholdDose, ScaleDose = ratio * _card.ScaleDose };
    }

    private sealed class Tally
    {
        private readonly List<(AnswerSource Source, double Stated, double Right)> _answers = [];

        public IEnumerable<(AnswerSource Source, int Count, double Stated, double Right)> Lines => _answers
            .GroupBy(answer => answer.Source).OrderBy(group => group.Key)
            .Select(group => (group.Key, group.Count(), group.Average(a => a.Stated), group.Average(a => a.Right)));

        public void Add(BatchAnswer answer, Func<BatchAnswer, double> isRight) => _answers.Add(
            answer.Source == AnswerSource.None ? (answer.Source, 0, 0) : (answer.Source, answer.Confidence!.Value, isRight(answer)));
    }
}
