using System.Text;
using CardScan.Model;

namespace CardScan.Scoring.Tests;

/// <summary>The law study of docs/method/calibration.md is itself held to its word, and a few of its laws are run shortly.</summary>
public sealed class LawStudyTests
{
    private const int Seed = 1;

    private static readonly GridSize Size = new(6, 6);

    public static TheoryData<string> Laws => [.. All.Select(law => law.NameAt(Size))];

    /// <summary>
    /// Laws under which each cell comes through by itself as its setting says: neither its place, nor a gap, nor a misreading.
    /// </summary>
    public static TheoryData<string> PlainCuts =>
        [.. CutCases.All.Where(law => law.Field is null && !law.HasGaps && law.Name != "misread sides").Select(law => law.NameAt(Size))];

    private static IEnumerable<LawCase> All => EngraveCases.All.Concat<LawCase>(CutCases.All);

    [Theory]
    [MemberData(nameof(Laws))]
    public void Every_card_of_the_study_can_be_saved_and_read_again(string name)
    {
        (_, Reading reading) = Sized(name).Draw(Seed, 0);

        Outcome<Reading> again = CardJson.ReadReading(Encoding.UTF8.GetBytes(CardJson.Write(reading)));

        Assert.Null(again.Refusal);
        Assert.Equal(reading.Cells, again.Value.Cells);
    }

    [Theory]
    [MemberData(nameof(PlainCuts))]
    public void Cells_come_through_as_often_as_the_truth_that_they_are_judged_by(string name)
    {
        TrueCard card = Sized(name).Law.Draw(Size, new(3));
        Chance chance = new(4);
        double[] through =
            [.. Enumerable.Range(0, 400).Select(_ => (double)card.Read(chance).Cells.Count(cell => cell.Through == Opening.Through))];

        double expected = card.Grid.Settings.Sum(setting => card.Worth(setting.PowerPercent, setting.SpeedMmPerMin));
        double mean = through.Average(), error = Math.Sqrt(through.Average(count => Math.Pow(count - mean, 2)) / through.Length);

        Assert.InRange(mean, expected - 3 * error - 0.02, expected + 3 * error + 0.02); // 0.02 cells: steps of the shared chance
    }

    [Fact]
    public void A_weaker_corner_is_weaker_there_and_nowhere_stronger()
    {
        CornerField field = new(IsRight: true, IsBottom: false, LostShare: 0.25);
        Place[] places = Place.Over(new(Process.Engrave, [20, 40, 60], [1000, 2000, 3000]));

        Assert.Equal(0.75, field.DoseFactor(places.Single(place => place is { X: 1, Y: 0 })), 9);
        Assert.All(places, place => Assert.InRange(field.DoseFactor(place), 0.75, 1));
        Assert.Equal(1, field.DoseFactor(places.Single(place => place is { X: 0, Y: 1 })), 9);
    }

    [Fact]
    public void Cells_lie_in_held_patches_as_often_as_asked_at_the_edge_and_in_the_middle()
    {
        const int Cards = 4000;
        Grid grid = Grid.Square(Process.Cut, 6);
        Chance chance = new(5);
        HashSet<(int Row, int Column)>[] held = [.. Enumerable.Range(0, Cards).Select(_ => Patches.Draw(grid, 0.1, chance))];

        // 0.1 with a standard error of 0.005.
        Assert.InRange(held.Count(cells => cells.Contains((0, 0))) / (double)Cards, 0.08, 0.12);
        Assert.InRange(held.Count(cells => cells.Contains((3, 2))) / (double)Cards, 0.08, 0.12);
    }

    /// <summary>Nobody tunes a scoring by the cards that judge it.</summary>
    [Fact]
    public void Another_seed_gives_other_cards()
    {
        SizedLaw law = Sized("engrave, saturating, 6x6");

        Assert.NotEqual(law.Draw(1, 0).Reading, law.Draw(StudyArguments.FirstJudgingSeed, 0).Reading);
        Assert.Equal(law.Draw(1, 0).Reading, law.Draw(1, 0).Reading);
    }

    /// <summary>A joint limit is read between the stated speeds, and its error has the sign of what is stated less what is true.</summary>
    [Fact]
    public void A_limit_between_two_stated_speeds_lies_between_their_powers_by_ratio()
    {
        CutTruth truth = new(Grid.Square(Process.Cut, 6), new LogisticSides(25), 50, 1, 1, 0.01, Disturbance.None) { ReferenceSpeed = 200 };
        Reading scored = truth.Read(new(1)) with
        {
            Boundary = [new(Goal.SureCut, 100, 30, 27, 33), new(Goal.SureCut, 400, 120, 108, 132)],
        };

        KnownLimit limit = KnownLimit.At(scored, truth, 200)!;

        Assert.Equal(Math.Log(33.0 / 27) / 2, limit.HalfWidth, 6);
        Assert.Equal(Math.Log(60.0 / 50), limit.Error!.Value, 3);
        Assert.Null(KnownLimit.At(scored, truth, 500));
    }

    [Theory]
    [InlineData("engrave, heavy tails, 5x5")]
    [InlineData("engrave, stripes, 5x5")]
    [InlineData("cut, probit, 5x5")]
    public void Settings_to_rely_on_hold_under_laws_that_the_scoring_does_not_know(string name)
    {
        LawTally tally = new(name, Sized(name).Run(40, Seed), LawLimits.MissesOfALaw);

        Assert.True(tally.Burned.ReliedOn >= 10, $"{tally.Burned.ReliedOn} settings");
        Assert.Equal("", tally.Breaks);
    }

    private static SizedLaw Sized(string name) => SizedLaw.All.Single(law => law.Name == name);
}
