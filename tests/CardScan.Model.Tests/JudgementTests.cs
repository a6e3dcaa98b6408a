using System.Text.Json;
using CardScan.Language;

namespace CardScan.Model.Tests;

/// <summary>What a maker reads first of a reading follows from what the reading holds.</summary>
public sealed class JudgementTests
{
    private static readonly Recommendation Sure = new()
    {
        Goal = Goal.FastestFullMark,
        PowerPercent = 80,
        SpeedMmPerMin = 1500,
        Cell = new(0, 0),
        Reason = "Fast and dark",
        Confidence = 0.97
    };

    [Fact]
    public void A_sure_setting_from_a_good_photo_can_be_used_as_it_is()
    {
        Judgement judgement = Judgement.Of(Reading([], Sure));

        Assert.Equal((Usability.AsItIs, "This reading can be used as it is."), (judgement.Usability, judgement.Words));
    }

    [Fact]
    public void What_the_errors_hold_already_does_not_spoil_a_sure_setting()
    {
        Warning noise = new("noisy", "Noise.");
        Judgement several = Judgement.Of(Reading([noise, new("cells-glare", "One cell.")], Sure));

        Assert.Equal(Usability.AsItIs, several.Usability);
        Assert.Equal("This reading can be used as it is, despite its warnings.", several.Words);
        Assert.Equal("This reading can be used as it is, despite its warning.", Judgement.Of(Reading([noise], Sure)).Words);
    }

    [Theory]
    [InlineData("all-through")]
    [InlineData("saturated")]
    public void A_sure_setting_of_a_card_that_holds_no_limit_is_used_with_care(string code)
    {
        Advice limit = new(code, "The limit lies outside this card.");

        Judgement judgement = Judgement.Of(Reading([], Sure) with { Advice = [limit] });

        Assert.Equal($"This reading can be used with care. {limit.Message}", judgement.Words);
        Assert.Same(limit, judgement.Advice);
    }

    [Fact]
    public void The_most_severe_warning_is_the_reason_for_care_wherever_it_stands()
    {
        Warning blur = new("motion-blur", "The phone moved. Rest it on something.");

        Judgement judgement = Judgement.Of(Reading([new("noisy", "Noise."), new("tilted", "Tilted."), blur], Sure));

        Assert.Equal(Usability.WithCare, judgement.Usability);
        Assert.Same(blur, judgement.Reason);
        Assert.Equal("This reading can be used with care. The phone moved. Rest it on something.", judgement.Words);
    }

    [Fact]
    public void A_setting_that_is_not_very_likely_asks_for_care_and_names_the_photo_where_it_has_a_fault()
    {
        Recommendation likely = Sure with { Confidence = 0.82 };

        Assert.Contains("finer card", Judgement.Of(Reading([], likely)).Detail, StringComparison.Ordinal);
        Assert.Equal("dark", Judgement.Of(Reading([new("dark", "Give more light.")], likely)).Reason?.Code);
    }

    [Fact]
    public void A_cut_that_bridges_alone_spoil_names_them_and_no_finer_card()
    {
        Advice bridges = new("bridged-sides", "2 sides are held by a short bridge.");
        Reading reading = Reading([], Sure with { Goal = Goal.SureCut, Confidence = 0.79 }) with { Advice = [bridges] };

        Judgement judgement = Judgement.Of(reading);

        Assert.Equal($"This reading can be used with care. {bridges.Message}", judgement.Words);
        Assert.Same(bridges, judgement.Advice);
    }

    [Theory]
    [InlineData(4, Usability.AsItIs)] // docs/robustness.md: of little use with fewer than 60 % of the cells
    [InlineData(5, Usability.WithCare)]
    public void Lost_cells_are_severe_where_few_are_left(int lost, Usability usability)
    {
        Reading reading = Reading([new("cells-glare", "Some cells are lost.")], Sure);
        CellReading cell = reading.Cells[0];
        reading = reading with
        {
            Cells =
                [.. Enumerable.Range(0, 10).Select(column => cell with { Column = column, Flags = column < lost ? [CellFlag.Glare] : [] })]
        };

        Assert.Equal(usability, Judgement.Of(reading).Usability);
    }

    [Fact]
    public void Without_a_setting_the_cards_own_reason_is_told_though_the_photo_has_faults()
    {
        // As an older version wrote it, which made no full sentences.
        Advice alike = new("of-the-past", "all cells are alike: go faster") { Goal = Goal.FastestFullMark };

        Judgement judgement =
            Judgement.Of(Reading([new("soft", "The photo is soft.")]) with { Advice = [new("outlier-cells", "one cell"), alike] });

        Assert.Equal("No setting from this reading. All cells are alike: go faster.", judgement.Words);
        Assert.Same(alike, judgement.Advice);
    }

    [Fact]
    public void Without_a_setting_the_photo_is_the_reason_where_another_one_may_give_one()
    {
        Judgement judgement = Judgement.Of(
            Reading([new("sides-unseen", "40 of 80 sides."), new("soft", "The photo is soft.")]) with
            {
                Advice = [new("unseen-cells", "4 cells")]
            });

        Assert.Equal((Usability.NoSetting, "soft"), (judgement.Usability, judgement.Reason?.Code));
    }

    [Fact]
    public void Of_several_photos_the_one_with_the_reason_is_named()
    {
        Reading reading = Reading([], Sure);
        reading = reading with
        {
            Photos = [reading.Photos[0], reading.Photos[0] with { File = "right.jpg", Warnings = [new("tilted", "Tilted.")] }]
        };

        Assert.Equal("right.jpg: Tilted.", Judgement.Of(reading).Detail);
    }

    [Fact]
    public void The_severity_of_every_warning_of_a_photo_is_known()
    {
        using Stream file = typeof(Voice).Assembly.GetManifestResourceStream("Messages.en.json")!;
        using JsonDocument messages = JsonDocument.Parse(file, new() { CommentHandling = JsonCommentHandling.Skip });
        string[] codes =
            [.. messages.RootElement.GetProperty("codes: Warnings of a photo").EnumerateObject().Select(message => message.Name)];

        Assert.True(codes.Length > 25, "the group was not found");
        Assert.All(codes, code => Assert.True(CodeMeanings.RankOf(code) < CodeMeanings.RankOf("unheard-of"), code));
        Assert.Equal(codes, codes.OrderBy(CodeMeanings.RankOf));
        Assert.Equal(codes, codes.OrderBy(CodeMeanings.SeverityOf));
    }

    [Fact]
    public void Warnings_are_sorted_by_severity_and_unknown_ones_come_last() =>
        Assert.Equal(["soft", "dark", "of-the-future"],
            Judgement.Sorted([new("of-the-future", ""), new("dark", ""), new("soft", "")]).Select(warning => warning.Code));

    private static Reading Reading(ValueList<Warning> warnings, params Recommendation[] recommendations)
    {
        Reading sample = Samples.Reading;
        return sample with
        {
            Photos = [sample.Photos[0] with { Warnings = warnings }],
            Cells = [.. sample.Cells.Take(1).Select(cell => cell with { Sides = null, Flags = [] })],
            Recommendations = [.. recommendations],
            Advice = [],
            Focus = null,
        };
    }
}
