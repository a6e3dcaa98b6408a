using System.Xml.Linq;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class ShownTests
{
    [Theory] // table 1 of the IPCC guidance note (Mastrandrea and others 2010)
    [InlineData(0.995, "virtually certain")]
    [InlineData(0.95, "extremely likely")]
    [InlineData(0.93, "very likely")]
    [InlineData(0.7, "likely")]
    [InlineData(0.5, "about as likely as not")]
    [InlineData(0.2, "unlikely")]
    [InlineData(0.05, "very unlikely")]
    public void Confidence_has_its_word(double probability, string word) =>
        Assert.Equal(word, Voice.Tell(ShownGoal.Likely(probability)));

    [Fact]
    public void Every_goal_and_flag_of_the_model_has_words_of_its_own()
    {
        string[] goals = [.. Codes(typeof(Goal))];
        string[] flags = [.. Codes(typeof(CellFlag))];

        Assert.NotEmpty(goals);
        Assert.All(goals, goal => Assert.NotEqual(goal, GoalName.Of(goal)));
        Assert.All(goals, goal => Assert.NotEmpty(GoalName.MeaningOf(Recommendation(goal), Samples.Engraved())));
        Assert.NotEmpty(flags);
        Assert.All(flags, flag => Assert.NotEqual(flag, ShownCell.Flag(flag)));

        static IEnumerable<string> Codes(Type type) =>
            type.GetFields().Where(field => field.IsLiteral).Select(field => (string)field.GetRawConstantValue()!);
    }

    [Fact]
    public void What_this_version_does_not_know_keeps_its_code()
    {
        Reading reading = Samples.Engraved();

        Assert.Equal("of-a-later-version", GoalName.Of(Recommendation("of-a-later-version"), reading));
        Assert.Empty(GoalName.MeaningOf(Recommendation("of-a-later-version"), reading));
        Assert.Equal("of-a-later-version", ShownCell.Flag("of-a-later-version"));
        Assert.Equal(("newProbability", "50 %"), ShownModel.Diagnostic("newProbability", 0.5));
        Assert.Equal("newMm", ShownGoal.Name(new("newMm", 1, 0, 2)));
    }

    [Theory]
    [InlineData("markStrength", 0.8421, 0.819, 0.866, "Mark strength", "0.84 [0.82, 0.87]")]
    [InlineData("powerPercent", 47.23, 44.1, 51.02, "Power", "47.2 % [44.1, 51]")]
    [InlineData("speedMmPerMin", 1340, 1270, 1400, "Speed", "1340 mm/min [1270, 1400]")]
    [InlineData("probability", 0.97, 0.944, 0.991, "Probability", "97 % [94, 99]")]
    [InlineData("newMm", 0.25, 0.2, 0.3, "newMm", "0.25 mm [0.2, 0.3]")]
    [InlineData("newJPerMm2", 1.5, 1, 2, "newJPerMm2", "1.5 J/mm² [1, 2]")]
    public void An_interval_has_its_name_and_the_unit_at_the_end_of_its_code(
        string code, double value, double low, double high, string name, string expected)
    {
        Interval interval = new(code, value, low, high);

        Assert.Equal((name, expected), (ShownGoal.Name(interval), Voice.Tell(ShownGoal.Value(interval))));
    }

    [Theory]
    [InlineData(2, -1.5, "With 2 passes, line interval 0.1 mm, focus 1.5 mm below the surface.")]
    [InlineData(1, 2, "With 1 pass, line interval 0.1 mm, focus 2 mm above the surface.")]
    [InlineData(1, 0, "With 1 pass, line interval 0.1 mm, focus on the surface.")]
    public void What_goes_with_power_and_speed_is_a_sentence(int passes, double focusMm, string expected)
    {
        Reading reading = Samples.Engraved();
        reading = reading with
        {
            Cells = reading.Cells.Select(cell => cell with
            {
                Settings = cell.Settings with { Passes = passes, FocusOffsetMm = focusMm },
            }).ToValueList(),
        };

        Assert.Equal(expected, ShownSetting.Others(reading, reading.Recommendations[0]));
    }

    [Fact]
    public void An_element_stands_where_the_sentence_has_its_value()
    {
        XElement speed = new("b", "fast"), power = new("b", "strong");

        object[] parts = [.. Html.Sentence("page.recommendation.figures", [("speed", speed), ("power", power)], ("passes", 2))];

        Assert.Equal("fast at strong power, 2 passes", new XElement("p", parts).Value);
        Assert.Equal([speed, power], parts.OfType<XElement>());
    }

    [Fact]
    public void A_large_number_has_its_unit_behind_it_as_every_sentence_has()
    {
        XElement large = Html.Large(Figures.Speed(1500));

        Assert.Equal("1500", large.Element("strong")!.Value);
        Assert.Equal("1500 mm/min", large.Value);
    }

    [Fact]
    public void A_partly_open_side_counts_as_held_and_tells_how_far()
    {
        SideReading side = new()
        {
            State = SideState.Partial, OpenFraction = 0.6, SeenFraction = 0.8, KerfMm = 0.153, LongestBridgeMm = 2.41,
        };

        Assert.Equal(SideLook.Held, ShownCell.Look(side.State));
        Assert.Equal("held, 60 % open, kerf 0.15 mm, bridge 2.4 mm, only 80 % of it seen", ShownCell.Side(side));
        Assert.Equal("unseen", ShownCell.Side(new() { State = SideState.Unseen, SeenFraction = 0.1 }));
    }

    [Fact]
    public void The_open_share_weighs_sides_by_what_was_seen_and_leaves_unseen_ones_out()
    {
        SideReading open = new() { State = SideState.Open, OpenFraction = 1, SeenFraction = 1 };
        SideReading half = new() { State = SideState.Partial, OpenFraction = 0.5, SeenFraction = 0.5 };
        SideReading unseen = new() { State = SideState.Unseen, SeenFraction = 0.2 };
        CellReading cell = Samples.Cut().Cells[0];

        Assert.Equal(1.25 / 1.5, ShownCell.OpenShare(cell with { Sides = new(open, half, unseen, unseen) })!.Value, 12);
        Assert.Null(ShownCell.OpenShare(cell with { Sides = new(unseen, unseen, unseen, unseen) }));
        Assert.Null(ShownCell.OpenShare(cell with { Sides = null }));
    }

    [Fact]
    public void The_kerf_across_x_is_that_of_the_left_and_right_sides()
    {
        CellReading cell = Samples.Cut().Cells[0];
        CellReading[] cells =
        [
            cell with { Sides = new(Kerf(0.30), Kerf(0.34), Kerf(0.20), Kerf(null)) },
            cell with { Sides = new(Kerf(0.32), Kerf(null), Kerf(null), Kerf(null)) },
        ];

        KerfSummary x = KerfSummary.AcrossX(cells)!;
        KerfSummary y = KerfSummary.AcrossY(cells)!;

        Assert.Equal((3, 0.30, 0.34), (x.Count, x.LowestMm, x.HighestMm));
        Assert.Equal(0.32, x.MeanMm, 12);
        // Deviations −0.02, 0.02, 0: standard deviation 0.02; 0.03 mm in common.
        Assert.Equal(Math.Sqrt(0.02 * 0.02 / 3 + 0.03 * 0.03), x.StandardErrorMm!.Value, 12);
        Assert.Equal((1, null), (y.Count, y.StandardErrorMm));
        Assert.Null(KerfSummary.AcrossX([cell with { Sides = null }]));

        static SideReading Kerf(double? mm) => new() { State = SideState.Open, KerfMm = mm };
    }

    private static Recommendation Recommendation(string goal) =>
        new() { Goal = goal, PowerPercent = 50, SpeedMmPerMin = 1000, Confidence = 0.9, Reason = "" };
}
