using System.Net;
using System.Text.RegularExpressions;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Cli.Tests;

public partial class ReadingSummaryTests
{
    [Fact]
    public void A_goal_is_called_on_the_terminal_what_it_is_called_on_the_page()
    {
        using Scratch scratch = new();
        string output = Cli.Run("demo", "--out", scratch["demo"]).Output;
        string pages =
            string.Concat(Directory.GetFiles(scratch["demo"], "report.html", SearchOption.AllDirectories).Select(File.ReadAllText));
        MatchCollection goals = GoalLine().Matches(output);
        Assert.Equal(
            ["Cuts through, apart from small bridges", "Cleanest cut with small bridges", "Fastest full mark", "Strongest mark"],
            goals.Select(goal => goal.Groups["name"].Value).Distinct());
        // The page joins the goals that share a setting: "Sure cut and cleanest sure cut".
        Assert.All(
            goals, goal => Assert.Contains(goal.Groups["name"].Value, WebUtility.HtmlDecode(pages), StringComparison.OrdinalIgnoreCase));
    }

    [Fact]
    public void A_cut_is_not_called_clean_where_its_char_was_not_measured()
    {
        using Scratch scratch = new();
        string folder = Path.Combine(AppContext.BaseDirectory, "demo", "cut-lime");
        string[] photos = [.. new[] { "left", "right" }.Select(side => Path.Combine(folder, $"lime-cut-{side}.jpg"))];
        CliRun run = Cli.Run(["read", .. photos, "--plan", Path.Combine(folder, "plan.json"), "--out", scratch["out"]]);
        const string name = "Least energy that cuts, with small bridges";
        Assert.Single(GoalLine().Matches(run.Output), goal => goal.Groups["name"].Value == name);
        Assert.Contains(name, File.ReadAllText(scratch["out/report.html"]), StringComparison.OrdinalIgnoreCase);
    }

    [Theory]
    [InlineData(Setting.Passes, 2, "1000 mm/min at 50 % in 2 passes")]
    [InlineData(Setting.Passes, 1, "1000 mm/min at 50 %")]
    [InlineData(Setting.LineIntervalMm, 0.08, "1000 mm/min at 50 %, line interval 0.08 mm")]
    [InlineData(Setting.FocusOffsetMm, -1.5, "1000 mm/min at 50 %, focus offset -1.5 mm")]
    [InlineData(Setting.FocusOffsetMm, -0.0, "1000 mm/min at 50 %, focus offset 0 mm")]
    [InlineData(Setting.SpeedMmPerMin, 1000, "1000 mm/min at 50 %")]
    public void The_setting_names_what_else_changes_over_the_card(Setting rows, double value, string line)
    {
        Reading reading = OneCell(rows, value, darkness: 0.4);
        Assert.Contains($"  {line}, confidence 90 %\n", Printed(reading), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(1, -0.5, 0.1, "900 mm/min at 60 %, focus offset -0.5 mm on card 4")]
    [InlineData(2, 0, 0.08, "900 mm/min at 60 % in 2 passes, line interval 0.08 mm on card 4")]
    [InlineData(1, 0, 0.1, "900 mm/min at 60 % on card 4")]
    public void A_setting_of_an_earlier_card_names_that_card_and_what_differs_there(int passes, double focusOffsetMm,
        double lineIntervalMm, string line)
    {
        Reading reading = OnEarlierCard(passes, focusOffsetMm, lineIntervalMm);
        string printed = Printed(reading);
        Assert.Contains($"  {line}, confidence 90 %\n", printed, StringComparison.Ordinal);
        Assert.Contains("\nScored together with card 4 (25 cells, 2 Nov 2026).\n", printed, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_of_an_earlier_card_is_marked_in_no_grid_of_this_one()
    {
        Reading joined = OnEarlierCard(1, 0, 0.1);
        Assert.Contains("►0.40", Told(OneCell(Setting.SpeedMmPerMin, 1000, 0.4), isTerminal: true, isJson: false).Output,
            StringComparison.Ordinal);
        Assert.DoesNotContain("►0.40", Told(joined, isTerminal: true, isJson: false).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_between_burned_cells_is_said_not_to_be_burned_yet()
    {
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, darkness: 0.4);
        UnburnedSetting unburned =
            new() { PowerPercent = 50, SpeedMmPerMin = 1120, Confidence = 0.81, Reason = "12 % faster: burn it before you rely on it." };
        reading = reading with { Recommendations = [reading.Recommendations[0] with { Unburned = unburned }] };
        Assert.Contains("\n  Not tested yet: 1120 mm/min at 50 %, confidence 81 %. 12 % faster: burn it before you rely on it.\n",
            Printed(reading), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(-0.001, "0.00")]
    [InlineData(-0.0, "0.00")]
    [InlineData(-0.006, "-0.01")]
    [InlineData(0.404, "0.40")]
    public void What_rounds_to_zero_has_no_sign(double darkness, string cell) =>
        Assert.Contains($"\n1000\t{cell}\n", Printed(OneCell(Setting.SpeedMmPerMin, 1000, darkness)), StringComparison.Ordinal);

    [Theory]
    [InlineData(true, false)]
    [InlineData(false, true)]
    public void A_focus_of_one_axis_alone_is_said_to_be_that(bool isYKnown, bool saysSo)
    {
        FocusAxis known = new() { BestOffset = new("95 % interval", 1.42, 1.3, 1.5), Cells = 9 };
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, 0.4) with
        {
            Focus = new() { OffsetMm = 1.42, AcrossX = known, AcrossY = isYKnown ? known : new() { Cells = 9 } }
        };
        Assert.Contains("focus offset +1.42 mm", Printed(reading), StringComparison.Ordinal);
        Assert.Equal(saysSo, Printed(reading).Contains("the best of the one axis that is known", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(92, "L*")]
    [InlineData(222.9, "relative lightness")]
    public void Tones_lighter_than_the_bare_material_have_no_L_star(double lightest, string quantity)
    {
        ToneScale tones = new()
        {
            Setting = Setting.PowerPercent,
            StepsAsked = 2,
            Steps = [new(20, 800, 80, 78, 82), new(90, 800, lightest, lightest - 2, lightest + 2)],
            Curve = new("power, %", [], [])
        };
        string printed = Printed(OneCell(Setting.SpeedMmPerMin, 1000, 0.4) with { Tones = tones });
        Assert.Contains($"even steps of {quantity} (bare material 100)", printed, StringComparison.Ordinal);
        Assert.Contains($"\tpower %\t{quantity}\tfrom", printed, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(false, false, 2)] // whoever keeps the results in a file sees the warnings alone
    [InlineData(true, false, 1)]
    [InlineData(false, true, 2)]
    public void Whether_the_reading_can_be_used_comes_first_and_its_reason_is_not_lost(bool isTerminal, bool isJson, int warnings)
    {
        PhotoRecord photo = new()
        {
            File = "photo.jpg",
            Sha256 = new('0', 64),
            Light = Light.Front,
            WidthPx = 4000,
            HeightPx = 3000,
            Warnings = [new("noisy", "Much noise."), new("soft", "The photo is soft. Let the phone focus.")]
        };
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, darkness: 0.4) with { Photos = [photo] };

        (string output, string errors) = Told(reading, isTerminal, isJson);

        string[] told = errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(warnings, told.Length);
        Assert.Equal("warning: photo.jpg: Much noise. [noisy]", told[^1]);
        if (isJson) Assert.StartsWith("{", output, StringComparison.Ordinal);
        else if (isTerminal)
            Assert.Contains("care. The photo is soft. Let the phone focus. [soft]", Flowing(output), StringComparison.Ordinal);
        else Assert.Equal("This reading can be used with care. See the warning [soft].", output.Split('\n')[1]);
        Assert.Equal(isJson ? 2 : 1, Regex.Count(output + errors, "The photo is soft", RegexOptions.None, TimeSpan.FromSeconds(5)));
    }

    [Fact]
    public void No_line_of_a_terminal_ends_between_a_number_and_its_unit()
    {
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, darkness: 0.4);
        foreach (int start in Enumerable.Range(1, 12))
        {
            string reason =
                string.Join(' ', new[] { new string('r', start) }.Concat(Enumerable.Repeat("1000 mm/min at 100 %, with 0.1 mm", 12)));

            string output = Told(reading with { Recommendations = [reading.Recommendations[0] with { Reason = reason }] }, isTerminal: true,
                isJson: false).Output;

            Assert.DoesNotContain(output.Split('\n'),
                line => line.TrimStart().StartsWith('%') || line.TrimStart().StartsWith("mm", StringComparison.Ordinal));
            Assert.Contains("at 100 %, with", output, StringComparison.Ordinal);
        }
    }

    /// <summary>Without the breaks of lines.</summary>
    private static string Flowing(string text) => string.Join(' ', text.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries));

    [Fact]
    public void An_unsure_cut_tells_best_estimate_and_what_to_count_on_in_the_same_words_everywhere()
    {
        Reading reading = Cut(best: 0.79, countOn: 0.43);
        string printed = Printed(reading);
        Assert.Contains(
            "\nLikely cut, not sure  1000 mm/min at 50 %, best estimate 79 %, count on 43 %\n", printed, StringComparison.Ordinal);
        Assert.Contains(
            "\n  Not tested yet: 1120 mm/min at 50 %, best estimate 78 %, count on 42 %. u\n", printed, StringComparison.Ordinal);
        Assert.DoesNotContain("confidence", printed, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(0.45, "Doubtful cut, may well be held")]
    [InlineData(0.66, "Likely cut, not sure")]
    public void A_cut_that_is_not_even_likely_is_not_headed_like_one(double best, string name)
    {
        Reading reading = Cut(best, countOn: 0.1);
        Assert.Contains($"\n{name}  1000 mm/min", Printed(reading), StringComparison.Ordinal);
        Assert.Equal(name, GoalName.Of(Goal.SureCut, 0.1, reading.Recommendations[0].Interval));
    }

    [Fact]
    public void What_was_said_of_a_setting_for_one_goal_is_not_said_again_for_the_next()
    {
        Reading reading = Cut(best: 0.79, countOn: 0.43);
        Reason shared = new("shared", "Said of both."), own = new("own", "Least char.");
        Recommendation first = reading.Recommendations[0] with { Reasons = [shared], Unburned = null };
        reading = reading with { Recommendations = [first, first with { Goal = Goal.CleanCut, Reasons = [own, shared] }] };
        string printed = Printed(reading);
        Assert.Single(Regex.Matches(printed, "Said of both", RegexOptions.None, TimeSpan.FromSeconds(5)));
        Assert.Contains("\n  Least char.\n", printed, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_that_is_broken_goes_on_some_spaces_in_and_ends_without_any()
    {
        string reason = string.Join(' ', Enumerable.Repeat("word", 60));
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, darkness: 0.4);
        reading = reading with { Recommendations = [reading.Recommendations[0] with { Reason = reason }], Advice = [new("own", reason)] };
        string[] lines = Told(reading, isTerminal: true, isJson: false).Output.Split('\n');
        string[] wrapped = [.. lines.Where(line => line.Contains("word word", StringComparison.Ordinal))];
        Assert.True(wrapped.Length > 6);
        Assert.All(wrapped, line => Assert.Matches("^(  word|warning: word).*word$", line));
    }

    [Theory]
    [InlineData("43 % to 97 %")]
    [InlineData("95 % interval")]
    [InlineData("2 passes")]
    [InlineData("11 min 46 s")]
    [InlineData("--card 86x54")]
    [InlineData("default 0.1 mm")]
    public void What_belongs_together_has_no_place_to_break(string text) =>
        Assert.DoesNotContain(' ', Terminal.Bound($"of {text} here", isTerminal: true)[3..^5]);

    private static Reading Cut(double best, double countOn)
    {
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, darkness: 0.4);
        return reading with
        {
            Recommendations = [reading.Recommendations[0] with
            {
                Goal = Goal.SureCut, Confidence = countOn, Interval = new("probabilityThrough", best, countOn, 0.97),
                Unburned = new()
                {
                    PowerPercent = 50, SpeedMmPerMin = 1120, Confidence = countOn - 0.01, Reason = "u",
                    Interval = new("probabilityThrough", best - 0.01, countOn - 0.01, 0.97),
                },
            }],
        };
    }

    private static string Printed(Reading reading) => Told(reading, isTerminal: false, isJson: false).Output;

    private static (string Output, string Errors) Told(Reading reading, bool isTerminal, bool isJson)
    {
        using StringWriter output = new(), errors = new();
        ReadingSummary.Print(new Terminal(output, errors, isTerminal, isTerminal), new ReadResult(reading, []), isJson);
        return (Plain(output), Plain(errors));

        static string Plain(StringWriter text) => Colour().Replace(text.ToString().ReplaceLineEndings("\n"), "");
    }

    /// <summary>A card of one cell whose setting stands on an earlier card, at the same place.</summary>
    private static Reading OnEarlierCard(int passes, double focusOffsetMm, double lineIntervalMm)
    {
        Reading reading = OneCell(Setting.SpeedMmPerMin, 1000, darkness: 0.4);
        CellSettings burned = new()
        {
            PowerPercent = 60,
            SpeedMmPerMin = 900,
            Passes = passes,
            FocusOffsetMm = focusOffsetMm,
            LineIntervalMm = lineIntervalMm
        };
        return reading with
        {
            Recommendations = [reading.Recommendations[0] with
            {
                PowerPercent = 60,
                SpeedMmPerMin = 900,
                Card = 4,
                EarlierCell = reading.Cells[0] with { Settings = burned }
            }],
            Joined = [new() { Number = 4, CellsUsed = 25, Taken = new(2026, 11, 2, 10, 0, 0) }],
        };
    }

    /// <summary>A card of one cell, power against another setting.</summary>
    private static Reading OneCell(Setting rows, double value, double darkness)
    {
        Plan shipped = CardJson.ReadPlan(File.ReadAllBytes(Cli.Plan)).Value.Plan;
        Plan plan = shipped with
        {
            Columns = new() { Setting = Setting.PowerPercent, Values = [50] },
            Rows = new() { Setting = rows, Values = [value] },
            Fixed = new() { SpeedMmPerMin = 1000, LineIntervalMm = 0.1 },
            Cells = [shipped.Cells[0] with { Row = 0, Column = 0 }],
        };
        return new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = [new() { Row = 0, Column = 0, Settings = plan.SettingsOf(plan.Cells[0]), Darkness = new(darkness, 0.01) }],
            Recommendations = [new()
            {
                Goal = Goal.FastestFullMark,
                PowerPercent = 50,
                SpeedMmPerMin = 1000,
                Cell = new(0, 0),
                Reason = "r",
                Confidence = 0.9
            }],
        };
    }

    [GeneratedRegex("\u001b\\[[0-9;]*m", RegexOptions.None, 5000)]
    private static partial Regex Colour();

    [GeneratedRegex(@"^(?<name>[A-Z][a-z, ]+)  [0-9]", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex GoalLine();
}
