using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class WordsTests
{
    [Theory] // table 1 of the IPCC guidance note (Mastrandrea and others 2010)
    [InlineData(0.995, "virtually certain")]
    [InlineData(0.95, "extremely likely")]
    [InlineData(0.93, "very likely")]
    [InlineData(0.7, "likely")]
    [InlineData(0.5, "about as likely as not")]
    [InlineData(0.2, "unlikely")]
    [InlineData(0.05, "very unlikely")]
    public void Confidence_has_its_word(double probability, string word) => Assert.Equal(word, GoalWords.Confidence(probability));

    [Fact]
    public void Every_goal_and_flag_of_the_model_has_words_of_its_own()
    {
        string[] goals = [.. Codes(typeof(Goal))];
        string[] flags = [.. Codes(typeof(CellFlag))];

        Assert.NotEmpty(goals);
        Assert.All(goals, goal => Assert.NotEmpty(GoalWords.Meaning(goal)));
        Assert.NotEmpty(flags);
        Assert.All(flags, flag => Assert.NotEqual(Sentence.FromCode(flag), CellWords.Flag(flag)));

        static IEnumerable<string> Codes(Type type) => type.GetFields().Where(field => field.IsLiteral).Select(field => (string)field.GetRawConstantValue()!);
    }

    [Theory]
    [InlineData("markStrength", "mark strength", "")]
    [InlineData("thresholdPowerPercent", "threshold power", "%")]
    [InlineData("speedMmPerMin", "speed", "mm/min")]
    [InlineData("doseJPerMm2", "dose", "J/mm²")]
    [InlineData("haloMm", "halo", "mm")]
    [InlineData("probability", "probability", "")]
    public void The_quantity_of_an_interval_is_read_from_its_name(string code, string name, string unit) => Assert.Equal((name, unit), GoalWords.Quantity(code));

    [Fact]
    public void An_interval_shows_its_unit_and_a_probability_as_percent()
    {
        Assert.Equal(("probability", "98.3 % (95.2 to 99.4)"), Plain(GoalWords.Interval(new("probability", 0.983, 0.952, 0.994))));
        Assert.Equal(("power", "47.2 % (44.1 to 51.0)"), Plain(GoalWords.Interval(new("powerPercent", 47.23, 44.1, 51.02))));
        Assert.Equal(("mark strength", "0.842 (0.819 to 0.866)"), Plain(GoalWords.Interval(new("markStrength", 0.8421, 0.819, 0.866))));

        static (string, string) Plain((string Name, string Values) interval) => (interval.Name, interval.Values.Replace('\u00a0', ' '));
    }

    [Fact]
    public void Settings_carry_their_units()
    {
        CellSettings settings = new() { PowerPercent = 55, SpeedMmPerMin = 1500, Passes = 2, FocusOffsetMm = -1.5, LineIntervalMm = 0.1 };

        Assert.Equal("55 %, 1500 mm/min", SettingWords.AxesOf(Samples.Plan(), settings).Replace('\u00a0', ' '));
        Assert.Equal("2 passes, line interval 0.1 mm, focus 1.5 mm below the surface", SettingWords.Others(Samples.Plan(), settings).Replace('\u00a0', ' '));
        Assert.Equal("1 pass, focus on the surface", SettingWords.Others(Samples.Plan(process: Process.Cut), settings with { Passes = 1, FocusOffsetMm = 0 }).Replace('\u00a0', ' '));
    }

    [Fact]
    public void A_partly_open_side_counts_as_held_and_tells_how_far()
    {
        SideReading side = new() { State = SideState.Partial, OpenFraction = 0.6, SeenFraction = 0.8, KerfMm = 0.153, LongestBridgeMm = 2.41 };

        Assert.Equal(SideLook.Held, CellWords.Look(side.State));
        Assert.Equal("held, 60 % open, kerf 0.15 mm, bridge 2.4 mm, only 80 % of it seen", CellWords.Side(side).Replace('\u00a0', ' '));
        Assert.Equal("unseen", CellWords.Side(new() { State = SideState.Unseen, SeenFraction = 0.1 }));
    }

    [Fact]
    public void The_open_share_weighs_sides_by_what_was_seen_and_leaves_unseen_ones_out()
    {
        SideReading open = new() { State = SideState.Open, OpenFraction = 1, SeenFraction = 1 };
        SideReading half = new() { State = SideState.Partial, OpenFraction = 0.5, SeenFraction = 0.5 };
        SideReading unseen = new() { State = SideState.Unseen, SeenFraction = 0.2 };
        CellReading cell = Samples.Cut().Cells[0];

        Assert.Equal(1.25 / 1.5, CellWords.OpenShare(cell with { Sides = new(open, half, unseen, unseen) })!.Value, 12);
        Assert.Null(CellWords.OpenShare(cell with { Sides = new(unseen, unseen, unseen, unseen) }));
        Assert.Null(CellWords.OpenShare(cell with { Sides = null }));
    }

    [Fact]
    public void The_kerf_across_x_is_that_of_the_left_and_right_sides()
    {
        CellReading cell = Samples.Cut().Cells[0];
        CellReading[] cells = [cell with { Sides = new(Kerf(0.30), Kerf(0.34), Kerf(0.20), Kerf(null)) }, cell with { Sides = new(Kerf(0.32), Kerf(null), Kerf(null), Kerf(null)) }];

        KerfSummary x = KerfSummary.AcrossX(cells)!;
        KerfSummary y = KerfSummary.AcrossY(cells)!;

        Assert.Equal((3, 0.30, 0.34), (x.Count, x.LowestMm, x.HighestMm));
        Assert.Equal(0.32, x.MeanMm, 12);
        Assert.Equal(Math.Sqrt(0.02 * 0.02 / 3 + 0.03 * 0.03), x.StandardErrorMm!.Value, 12); // deviations −0.02, 0.02, 0: standard deviation 0.02; 0.03 mm in common
        Assert.Equal((1, null), (y.Count, y.StandardErrorMm));
        Assert.Null(KerfSummary.AcrossX([cell with { Sides = null }]));

        static SideReading Kerf(double? mm) => new() { State = SideState.Open, KerfMm = mm };
    }
}
