using CardScan.Model;
using CardScan.Scoring.History;
using MathNet.Numerics.Distributions;

namespace CardScan.Scoring.Tests.History;

/// <summary>What a machine's cards tell of how its need of energy changed.</summary>
public sealed class NeedChartTests
{
    // NIST/SEMATECH e-Handbook, 6.3.2.2: flow rates; mean 50.81, limits 45.8159 and 55.8041.
    private static readonly double[] Flow = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4];

    private const double CardError = 0.04;

    [Fact]
    public void The_limits_of_one_kind_are_those_of_the_individuals_chart()
    {
        NeedHistory history = NeedChart.Of([.. Flow.Select(value => Card("flow", value, error: 0))]);

        double range = Flow.Zip(Flow.Skip(1), (a, b) => Math.Abs(b - a)).Average();
        Assert.All(history.Points, point => Assert.Equal(3 * range / 1.128, point!.Limit!.Value, 1e-9));
        Assert.Equal(
            Flow.Select(value => value - Flow.Average()), history.Points.Select(point => point!.Ln), (a, b) => Math.Abs(a - b) < 1e-9);
        Assert.Equal((0, null), (history.Missing, history.Change));
    }

    [Fact]
    public void Fewer_than_eight_cards_of_a_kind_have_no_limits_and_it_is_told_how_many_are_missing()
    {
        NeedHistory history = NeedChart.Of([.. Flow.Take(7).Select(value => Card("flow", value, error: 0))]);

        Assert.Equal(1, history.Missing);
        Assert.All(history.Points, point => Assert.Null(point!.Limit));
    }

    [Fact]
    public void Kinds_share_the_limits_and_a_kind_of_one_card_tells_nothing()
    {
        ChartedCard[] cards = [.. Drawn(new(1), 9, i => i % 2 == 0 ? "birch" : "slate", _ => 0), Card("leather", 1)];

        NeedHistory history = NeedChart.Of([.. cards]);

        Assert.Equal(0, history.Missing);
        Assert.Null(history.Points[^1]);
        Assert.All(history.Points.SkipLast(1), point => Assert.NotNull(point!.Limit));
        Assert.Equal(1, NeedChart.Of([.. cards.Take(8)]).Missing);
    }

    [Fact]
    public void Cards_are_held_against_each_other_at_one_speed()
    {
        EnergyNeed slow = new(1, CardError, 1000, 0.9, 0.02), fast = new(1 - 0.1 * Math.Log(2), CardError, 2000, 0.9, 0.02);

        NeedHistory history = NeedChart.Of([new("birch", slow), new("birch", fast)]);

        Assert.Equal([0.0, 0.0], history.Points.Select(point => Math.Round(point!.Ln, 12)));
        Assert.Equal(double.Hypot(CardError, 0.02 * Math.Log(2) / 2), history.Points[0]!.StandardError, 1e-9);
    }

    [Fact]
    public void A_lasting_change_is_told_with_its_size_and_since_when_and_a_change_that_is_over_is_not()
    {
        ChartedCard[] before = [.. Drawn(new(2), 12, i => i % 3 == 0 ? "slate" : "birch", _ => 0)];
        ChartedCard[] after = [.. Drawn(new(3), 8, i => i % 3 == 0 ? "slate" : "birch", _ => Math.Log(1.25))];

        NeedChange change = NeedChart.Of([.. before, .. after]).Change!;

        Assert.InRange(change.Since, 11, 13);
        Assert.InRange(Math.Log(1.25), Math.Log(change.Energy.Low), Math.Log(change.Energy.High));
        Assert.True(change.Energy.High / change.Energy.Low < 1.25, $"{change.Energy}");
        Assert.Equal(2, change.Kinds);
        Assert.Null(NeedChart.Of([.. before, .. after, .. Drawn(new(4), 1, _ => "birch", _ => 0)]).Change);
    }

    /// <summary>
    /// Two charts watch at once, with limits from eight cards: more than the 1 in 200 of limits that are known, and still rare.
    /// </summary>
    [Theory]
    [InlineData(0.03, 0.01)]
    [InlineData(0.08, 0.025)]
    public void False_alarms_are_rare(double spread, double most)
    {
        int alarms = 0, cards = 0;
        foreach (NeedHistory history in Simulated(400, 28, spread, change: 0))
        {
            NeedPoint[] watched = [.. history.Points.OfType<NeedPoint>().Where(point => point.Mean is not null)];
            cards += watched.Length;
            alarms += watched.Index().Count(each => each.Item.IsUnexplained && (each.Index == 0 || !watched[each.Index - 1].IsUnexplained));
        }

        Assert.True(alarms < most * cards, $"{alarms} of {cards}");
    }

    /// <summary>A lens that gets dirty by a fifth is found within eight cards, nearly always.</summary>
    [Theory]
    [InlineData(0.03, 0.95)]
    [InlineData(0.08, 0.75)]
    public void A_change_by_a_fifth_is_found(double spread, double least)
    {
        int found = Simulated(400, 8, spread, Math.Log(1.2))
            .Count(history => history.Points.Any(point => point is { Mean: not null, IsUnexplained: true }));

        Assert.True(found > least * 400, $"{found} of 400");
    }

    /// <summary>Nine cards of two materials make the limits, then come the others.</summary>
    private static IEnumerable<NeedHistory> Simulated(int runs, int later, double spread, double change) => Enumerable.Range(0, runs)
        .Select(run => NeedChart.Of([.. Drawn(new(run), 9 + later, i => i % 2 == 0 ? "birch" : "slate", i => i < 9 ? 0 : change, spread)]));

    private static IEnumerable<ChartedCard> Drawn(
        Random random, int cards, Func<int, string> kind, Func<int, double> shift, double spread = 0.03) => Enumerable.Range(0, cards)
        .Select(i => Card(kind(i), kind(i).Length + shift(i) + Normal.Sample(random, 0, double.Hypot(spread, CardError))));

    private static ChartedCard Card(string kind, double ln, double error = CardError) => new(kind, new(ln, error, 1000, 1, 0));
}
