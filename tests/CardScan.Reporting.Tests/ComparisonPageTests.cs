using System.Xml.Linq;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Reporting.Tests;

public sealed class ComparisonPageTests
{
    private const string Hostile = "<script>alert(1)</script>";

    [Fact]
    public void The_ratio_and_what_to_change_stand_first_and_large()
    {
        XElement verdict = PageReader.Section(Page(Sample()), "verdict")!;
        string text = PageReader.Text(verdict);

        Assert.Contains("1.12", verdict.Descendants("strong").First().Value, StringComparison.Ordinal);
        Assert.Contains("between 1.07 and 1.18 (95 % interval)", text, StringComparison.Ordinal);
        Assert.Contains("lower the speed from 1500 to 1340 mm/min", text, StringComparison.Ordinal);
        Assert.Contains("1500 mm/min at 80 % becomes 1340 mm/min at 80 %", text, StringComparison.Ordinal);
        Assert.Contains("1 of 2, by more than chance", text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_one_answer_stands_before_everything_else()
    {
        Comparison sample = Sample();
        BatchAnswer answer = new()
        {
            Source = AnswerSource.OwnReading, Goal = Goal.FastestFullMark, DemandedConfidence = 0.8, Confidence = 0.93,
            SpeedMmPerMin = 1500, PowerPercent = 65, Passes = 1,
            Reasons =
            [
                new(Codes.AnswerOwn, ("reference", "old"), ("other", "new"), ("process", "Engrave"),
                    ("setting", new SettingFigure(1500, 65)), ("chance", Figures.Share(0.93))),
                new(Codes.AnswerAgree, ("reference", "old"), ("other", "new"), ("process", "Engrave")),
            ],
        };
        XElement verdict = PageReader.Section(Page(sample with { Pairs = [sample.Pairs[0] with { Answer = answer }] }), "verdict")!;

        Assert.Equal("Use 1500 mm/min at 65 % for new: tested on its own card, it gives a full mark with a probability of 93 %.",
            PageReader.Text(verdict.Descendants("p").First()));
        Assert.Contains("The setting of old comes to the same.", PageReader.Text(verdict), StringComparison.Ordinal);
        Assert.Equal("new", PageReader.Text(verdict.Descendants("h3").Single()));
        XElement tests = verdict.Descendants("details").Single();
        Assert.Contains("two one-sided tests", PageReader.Text(tests), StringComparison.Ordinal);
        Assert.DoesNotContain("two one-sided tests",
            PageReader.Text(verdict).Replace(PageReader.Text(tests), "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(true, 0.31, null, "The two cards follow the same curve (F(4, 50)")]
    [InlineData(true, 0.016, null, "The two cards follow the same curve, apart from a difference too small to matter (F(4, 50)")]
    [InlineData(true, 0.31, 0.8, "The two cards follow the same curve up to their own strongest marks (F(4, 50)")]
    [InlineData(false, 0.001, null, "The two cards do not follow the same curve (F(4, 50)")]
    public void The_test_of_shape_is_told_in_words_before_its_figures(bool areAlike, double p, double? strength, string expected)
    {
        Comparison sample = Sample();
        ComparedPair pair = sample.Pairs[0] with
        {
            Shape = new(1.2, p, 0.05, areAlike) { DegreesOfFreedom = 4, ResidualDegreesOfFreedom = 50 },
            RelativeDose = sample.Pairs[0].RelativeDose! with { StrengthRatio = strength },
        };

        Assert.Contains(
            expected, PageReader.Text(PageReader.Section(Page(sample with { Pairs = [pair] }), "verdict")!), StringComparison.Ordinal);
    }

    [Fact]
    public void Maps_and_table_show_differences_with_their_sign_and_which_differ()
    {
        XElement cells = PageReader.Section(Page(Sample()), "cells-1")!;
        string text = PageReader.Text(cells);

        Assert.Contains("+0.04", text, StringComparison.Ordinal);
        Assert.Contains("−0.10", text, StringComparison.Ordinal);
        Assert.Contains("differs", text, StringComparison.Ordinal);
        Assert.Contains("ΔE2000 of each cell against its own bare material", text, StringComparison.Ordinal);
        Assert.Equal(2, cells.Descendants("svg").Count(svg => (string?)svg.Attribute("role") == "img"));
    }

    [Fact]
    public void Three_batches_get_a_chart_that_marks_the_one_outside()
    {
        Comparison sample = Sample();
        Comparison three = sample with
        {
            Chart = new(
                [new("old", 1, 1, 1, false), new("new", 1.12, 1.07, 1.18, false), new("odd", 1.6, 1.5, 1.7, true)],
                1.1, 0.8, 1.4, "odd lies outside the control limits."),
        };
        XElement chart = PageReader.Section(Page(three), "chart")!;

        Assert.Contains("odd lies outside", PageReader.Text(chart), StringComparison.Ordinal);
        Assert.Single(chart.Descendants("circle"), dot => (string?)dot.Attribute("class") == "dot weak");
        Assert.Null(PageReader.Section(Page(sample), "chart"));
    }

    [Fact]
    public void What_a_maker_typed_is_text_and_nothing_else()
    {
        Comparison sample = Sample();
        Comparison hostile = sample with { Pairs = [sample.Pairs[0] with { Other = Hostile, Summary = Hostile }] };

        Assert.Empty(Page(hostile).Descendants("script"));
        Assert.Contains(Hostile, PageReader.Text(Page(hostile)), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_no_picture_is_left_out_and_a_picture_is_shown()
    {
        Reading reading = Samples.Engraved();
        byte[] png = CardReport.AnnotatedPng(reading, Samples.Picture(reading.Plan));
        XElement page = Page(Sample(), [new("old", png), new("new", "no picture"u8.ToArray())]);

        XElement picture = Assert.Single(page.Descendants("img"));
        Assert.StartsWith("data:image/jpeg;base64,", (string?)picture.Attribute("src"), StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_ratio_the_page_still_says_why()
    {
        Comparison sample = Sample();
        ComparedPair pair = new()
        {
            Reference = "old", Other = "new", Verdict = PairVerdict.Unclear, Summary = "Not enough to tell: too dark.",
        };
        Comparison unclear = sample with { Pairs = [pair] };
        XElement page = Page(unclear);

        Assert.Contains("Not enough to tell: too dark.", PageReader.Text(page), StringComparison.Ordinal);
        Assert.Null(PageReader.Section(page, "curves-1"));
        Assert.Null(PageReader.Section(page, "cells-1"));
    }

    [Fact]
    public void Fewer_readings_than_batches_are_a_programming_error() =>
        Assert.Throws<ArgumentException>(() => CardReport.ComparisonHtml(new(Sample(), [Samples.Engraved()], [])));

    private static XElement Page(Comparison comparison, ValueList<ComparedPicture>? pictures = null) =>
        PageReader.Parse(CardReport.ComparisonHtml(new(comparison, [Samples.Engraved(), Samples.Engraved()], pictures ?? [])));

    private static Comparison Sample()
    {
        Plan plan = Samples.Engraved().Plan;
        return new()
        {
            Format = Comparison.CurrentFormat,
            Process = Process.Engrave,
            MarginPercent = 5,
            Batches = [new("old", 17, plan.Material, plan.Machine, 30), new("new", 19, plan.Material, plan.Machine, 29)],
            Pairs =
            [
                new()
                {
                    Reference = "old",
                    Other = "new",
                    Verdict = PairVerdict.Different,
                    Summary = "new needs 1.12× [1.07, 1.18] the energy of old: "
                        + "lower the speed from 1500 to 1340 mm/min [1270, 1400] at 80 % power.",
                    RelativeDose = new(1.12, 1.07, 1.18, "saturating-exponential") { SpeedExponent = 0.9 },
                    Shape = new(1.2, 0.31, 0.05, true) { DegreesOfFreedom = 4, ResidualDegreesOfFreedom = 50 },
                    Equivalence = new(0.99, 0.05, 1.08, 1.16, false),
                    Change = new()
                    {
                        Goal = Goal.FastestFullMark,
                        FromSpeedMmPerMin = 1500,
                        FromPowerPercent = 80,
                        ToSpeedMmPerMin = 1340,
                        ToPowerPercent = 80,
                        Interval = new("speedMmPerMin", 1340, 1270, 1400),
                    },
                    Cells =
                    [
                        new(0, 0, 0.4, 0.04)
                        {
                            Interval = new("darkness", 0.04, -0.01, 0.09),
                            Probability = 0.2,
                            IsDifferent = false,
                            DeltaE2000Difference = 0.5,
                        },
                        new(0, 1, 0.6, -0.1)
                        {
                            Interval = new("darkness", -0.1, -0.15, -0.05),
                            Probability = 0.001,
                            IsDifferent = true,
                            DeltaE2000Difference = -2,
                        },
                    ],
                    Agreement = new(
                        2, 0.05, new("darkness", -0.03, -0.06, 0), new("darkness", -0.13, -0.2, -0.06), new("darkness", 0.07, 0, 0.14)),
                    Curves =
                    [
                        new("old", "dose at 2200 mm/min, J/mm²", [new(1, 0.5)], [new(0.5, 0.2), new(2, 0.8)]),
                        new("new", "dose at 2200 mm/min, J/mm²", [new(1, 0.45)], [new(0.5, 0.15), new(2, 0.75)]),
                    ],
                },
            ],
        };
    }
}
