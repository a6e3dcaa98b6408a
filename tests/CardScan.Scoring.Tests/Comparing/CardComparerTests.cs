using CardScan.Language;
using CardScan.Model;
using CardScan.Scoring.Comparing;

namespace CardScan.Scoring.Tests.Comparing;

public sealed class CardComparerTests
{
    private static readonly SimulatedCard Card = new() { DarknessError = 0.01, StrengthChance = 0.02 };

    [Fact]
    public void A_batch_that_needs_more_energy_is_told_so_with_the_speed_to_go_to()
    {
        ComparedPair pair = Compare(Card.Read(1), Needing(1.25).Read(2));

        Assert.Equal(PairVerdict.Different, pair.Verdict);
        Assert.InRange(1.25, pair.RelativeDose!.Low, pair.RelativeDose.High);
        SettingChange change = pair.Change!;
        Assert.True(change.ToSpeedMmPerMin < change.FromSpeedMmPerMin);
        Assert.Equal(change.FromPowerPercent, change.ToPowerPercent);
        Assert.Equal(0, change.ToSpeedMmPerMin % 10);
        Assert.InRange(change.ToSpeedMmPerMin, change.Interval.Low, change.Interval.High);
        // Dose goes with speed to the exponent: v · ρ^(−1/β).
        double expected = change.FromSpeedMmPerMin * Math.Pow(pair.RelativeDose.Value, -1 / pair.RelativeDose.SpeedExponent!.Value);
        Assert.Equal(expected, change.ToSpeedMmPerMin, 5.1);
        Assert.StartsWith("new needs 1.2", pair.Summary, StringComparison.Ordinal);
        Assert.Equal([Codes.PairDifferent, Codes.PairChange], pair.Reasons.Select(reason => reason.Code));
        Assert.Equal("Of a file without reasons.", (pair with { Reasons = [], Summary = "Of a file without reasons." }).Summary);
        string carried =
            $"Carried over, {change.FromSpeedMmPerMin} mm/min at {change.FromPowerPercent} % power becomes {change.ToSpeedMmPerMin} mm/min";
        Assert.Contains(carried, pair.Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void The_setting_carried_over_makes_the_same_mark_by_the_true_law()
    {
        SimulatedCard other = Needing(0.8);
        SettingChange change = Compare(Card.Read(3), other.Read(4)).Change!;

        Assert.True(change.ToSpeedMmPerMin > change.FromSpeedMmPerMin);
        Assert.Equal(Card.Strength(change.FromPowerPercent, change.FromSpeedMmPerMin),
            other.Strength(change.ToPowerPercent, change.ToSpeedMmPerMin), 0.01);
    }

    [Fact]
    public void Two_cards_of_one_batch_are_equal_within_the_margin()
    {
        ComparedPair pair = Compare(Card.Read(5), Card.Read(6), margin: 0.1);

        Assert.Equal(PairVerdict.Equal, pair.Verdict);
        Assert.True(pair.Equivalence!.IsEquivalent);
        Assert.Null(pair.Change);
        Assert.StartsWith("Equal within 10 %: new needs ", pair.Summary, StringComparison.Ordinal);
    }

    [Fact]
    public void Cards_too_noisy_to_tell_ask_for_more_cells_instead_of_claiming_equality()
    {
        SimulatedCard noisy = Card with { StrengthChance = 0.08, PowersPercent = [20, 45, 70, 95], SpeedsMmPerMin = [1000, 2000, 4000] };
        ComparedPair pair = Compare(noisy.Read(7), noisy.Read(8), margin: 0.02);

        Assert.Equal(PairVerdict.Unclear, pair.Verdict);
        Assert.Contains("Burn a card of each", pair.Summary, StringComparison.Ordinal);
        Assert.Null(pair.Change);
    }

    [Fact]
    public void A_batch_with_another_curve_gets_no_ratio_but_its_cells()
    {
        SimulatedCard other = Card with { Shape = 2.4, ThresholdDose = 0.6, ScaleDose = 1.4 };
        ComparedPair pair = Compare(Card.Read(9), other.Read(10));

        Assert.Equal(PairVerdict.OtherShape, pair.Verdict);
        Assert.Null(pair.RelativeDose);
        Assert.False(pair.Shape!.AreAlike);
        Assert.Equal(30, pair.Cells.Count);
        Assert.Contains(pair.Cells, cell => cell.IsDifferent == true);
    }

    [Fact]
    public void A_batch_whose_marks_end_fainter_is_compared_by_shares_of_its_own_mark_and_told_so()
    {
        SimulatedCard fainter = Needing(1.15) with { Plateau = 0.6 };
        ComparedPair pair = Compare(Card.Read(11), fainter.Read(12));

        Assert.InRange(1.15, pair.RelativeDose!.Low, pair.RelativeDose.High);
        Assert.Equal(0.6 / 0.85, pair.RelativeDose.StrengthRatio!.Value, 0.05);
        Assert.Contains(pair.Notes, note => note.Code == "own-strength");
    }

    [Fact]
    public void Different_plans_are_compared_through_their_curves_without_cells()
    {
        SimulatedCard other =
            Needing(1.2) with { PowersPercent = [30, 50, 70, 90], SpeedsMmPerMin = [1200, 1800, 2700, 4000], LineIntervalMm = 0.08 };
        ComparedPair pair = Compare(Card.Read(13), other.Read(14));

        Assert.InRange(1.2, pair.RelativeDose!.Low, pair.RelativeDose.High);
        Assert.Empty(pair.Cells);
        Assert.Null(pair.Agreement);
    }

    [Fact]
    public void A_card_with_one_row_is_compared_with_the_speed_exponent_of_the_other()
    {
        SimulatedCard row = Needing(1.2) with { PowersPercent = [20, 30, 40, 50, 60, 70, 80, 90, 100], SpeedsMmPerMin = [4000] };
        ComparedPair pair = Compare(Card.Read(15), row.Read(16));

        Assert.InRange(1.2, pair.RelativeDose!.Low, pair.RelativeDose.High);
    }

    [Fact]
    public void Light_marks_are_compared_alike_and_light_with_dark_not_at_all()
    {
        SimulatedCard light = Card with { IsLighter = true, Plateau = 2 };
        SimulatedCard later = light with { ThresholdDose = 0.15 * 1.2, ScaleDose = 1.2 };
        Assert.InRange(
            1.2, Compare(light.Read(17), later.Read(18)).RelativeDose!.Low, Compare(light.Read(17), later.Read(18)).RelativeDose!.High);

        ComparedPair mixed = Compare(Card.Read(19), light.Read(20));
        Assert.Equal(PairVerdict.Unclear, mixed.Verdict);
        Assert.Contains(mixed.Notes, note => note.Code == "compare-other-direction");
    }

    [Fact]
    public void Another_machines_watts_change_the_speed_even_where_the_energy_is_equal()
    {
        SimulatedCard stronger = Card with { RatedOpticalWatts = 20, PowersPercent = [10, 17.5, 25, 32.5, 40, 47.5] };
        ComparedPair pair = Compare(Card.Read(21), stronger.Read(22), margin: 0.2);

        Assert.Equal(PairVerdict.Equal, pair.Verdict);
        Assert.NotNull(pair.Change);
        Assert.Contains("the watts of the machines differ. ", pair.Summary, StringComparison.Ordinal);
        Assert.Contains(pair.Notes, note => note.Code == "other-machine");
    }

    [Fact]
    public void Cut_cards_are_compared_by_the_dose_that_opens_their_sides()
    {
        SimulatedCut cut = new(), later = new() { HalfwayPowerAt260 = 62 * 1.18 };
        ComparedPair pair = Compare(cut.Read(1), later.Read(2));

        Assert.Equal(PairVerdict.Different, pair.Verdict);
        Assert.InRange(1.18, pair.RelativeDose!.Low, pair.RelativeDose.High);
        Assert.True(pair.Change!.ToSpeedMmPerMin < pair.Change.FromSpeedMmPerMin);
        Assert.Equal(35, pair.Cells.Count);
    }

    [Fact]
    public void What_the_cards_carried_is_told_with_the_passes_it_was_carried_with()
    {
        // Two passes at 58 % serve on the old card; for the new one that would be more than full power in two passes.
        Reading old = Burned(70), later = Burned(105);

        ComparedPair pair = Compare(old, later);

        Assert.Null(pair.Change);
        const string what = " Burn a card that goes slower, or use the cells of new with other passes: for ";
        const string why = " in 2 passes of old, the change would be slower and stronger than anything these cards tested in 2 passes.";
        Assert.Contains(what, pair.Summary, StringComparison.Ordinal);
        Assert.EndsWith(why, pair.Summary, StringComparison.Ordinal);

        static Reading Burned(double halfway) => CardScorer.Score(
            new SimulatedCut { HalfwayPowerAt260 = halfway, PowerExponent = 60, DoseRatio = 1 }
                .Along(Setting.Passes, [1, 2], [40, 46, 52, 58, 64, 70, 76, 82, 88, 94, 100],
                    (power, passes) => power * Math.Pow(passes, 0.8), seed: 2),
            ScoringOptions.Default);
    }

    [Fact]
    public void What_no_photo_shows_of_a_cut_cell_widens_its_difference_either_way()
    {
        Reading first = new SimulatedCut().Read(1), later = new SimulatedCut().Read(2);
        SideReading open = new() { State = SideState.Open, OpenFraction = 1, SeenFraction = 1 }, half = open with { SeenFraction = 0.5 },
            unseen = new() { State = SideState.Unseen, SeenFraction = 0 };

        CellDifference sure = OfOneCell(new(open, open, open, open), new(open, open, open, open)),
            unsure = OfOneCell(new(open, open, open, open), new(open, half, open, unseen));

        Assert.Equal((0, 0, 0), (sure.Difference, sure.Interval!.Low, sure.Interval.High));
        Assert.Equal((0, -0.375, 0), (unsure.Difference, unsure.Interval!.Low, unsure.Interval.High));

        CellDifference OfOneCell(Sides of, Sides than) => Compare(With(first, of), With(later, than)).Cells[0];

        static Reading With(Reading reading, Sides sides) =>
            reading with { Cells = [reading.Cells[0] with { Sides = sides }, .. reading.Cells.Skip(1)] };
    }

    [Fact]
    public void A_cut_card_without_a_held_side_fixes_no_dose()
    {
        SimulatedCut through = new() { HalfwayPowerAt260 = 10 };
        ComparedPair pair = Compare(new SimulatedCut().Read(3), through.Read(4));

        Assert.Equal(PairVerdict.Unclear, pair.Verdict);
        Assert.Contains(pair.Notes, note => note.Code == "compare-all-sides-alike");
    }

    [Fact]
    public void Repeats_of_one_card_give_its_repeatability_and_no_interval_is_surer()
    {
        // Photos that differ in their tone: each scales all darkness a little.
        LabelledReading[] repeats =
            [.. new[] { 0.97, 1.0, 1.04 }.Select((gain, i) => new LabelledReading($"photo {i}", Toned(Card.Read(30), gain, i)))];
        Reading first = Card.Read(31), other = Needing(1.1).Read(32);

        Comparison alone = CardComparer.Compare([new("old", first), new("new", other)], new()).Value;
        Comparison floored = CardComparer.Compare([new("old", first), new("new", other)], new() { Repeats = repeats.ToValueList() }).Value;

        Repeatability found = floored.Repeatability!;
        Assert.Equal((3, 30), (found.Readings, found.Cells));
        Assert.InRange(found.AgreementIcc.Value, 0.99, 1);
        Assert.True(found.LnRelativeDoseDeviation > 0.02);
        RelativeDose free = alone.Pairs[0].RelativeDose!, held = floored.Pairs[0].RelativeDose!;
        Assert.True(held.High / held.Low > free.High / free.Low);
        Assert.Equal(Math.Exp(2 * 1.96 * Math.Sqrt(2) * found.LnRelativeDoseDeviation!.Value), held.High / held.Low, 0.01);
        Assert.All(floored.Pairs[0].Cells,
            cell => Assert.True(cell.Interval!.High - cell.Interval.Low >= 2 * 1.959 * Math.Sqrt(2) * found.WithinCellDeviation - 1e-4));
    }

    [Fact]
    public void What_unlike_photos_might_do_is_told_until_repeats_tell_it()
    {
        Reading first = Photographed(Needing(1).Read(1), 'a'), later = Photographed(Needing(1.1).Read(2), 'b');
        Advice note = Assert.Single(Compare(first, later).Notes, note => note.Code == "unlike-photos");
        double[] limits = [.. System.Text.RegularExpressions.Regex.Matches(note.Message, @"\d\.\d+", default, TimeSpan.FromSeconds(1))
            .Select(match => double.Parse(match.Value, System.Globalization.CultureInfo.InvariantCulture))];
        // Photos that stretch darkness by 15 % each may look like this ratio and like its opposite.
        RelativeDose dose = Compare(first, later).RelativeDose!;
        Assert.True(limits[0] < 1 && limits[0] < dose.Low && limits[1] > dose.High, note.Message);

        // no photo states such an error
        Assert.DoesNotContain(Compare(Needing(1).Read(1), Needing(1.1).Read(2)).Notes, other => other.Code == "unlike-photos");
        LabelledReading[] repeats = [.. Enumerable.Range(0, 3)
            .Select(i => new LabelledReading($"again {i}", Photographed(Needing(1).Read(30 + i), (char)('c' + i))))];
        Assert.DoesNotContain(
            CardComparer.Compare([new("a", first), new("b", later)], new() { Repeats = repeats.ToValueList() }).Value.Pairs[0].Notes,
            other => other.Code == "unlike-photos");

        static Reading Photographed(Reading reading, char photo) => reading with
        {
            Photos = [new()
            {
                File = "card.jpg",
                Sha256 = new(photo, 64),
                Light = Light.Front,
                WidthPx = 4000,
                HeightPx = 3000,
                Quality = new() { DarknessScaleError = 0.15 }
            }],
        };
    }

    [Theory]
    [InlineData("Phone", "Phone", 0.5, 0.4, "alike")]
    [InlineData(null, "Phone", 0.5, 0.4, "alike")]
    [InlineData("Phone", "Other phone", 0.5, 0.4, "unlike")]
    [InlineData("Phone", "Phone", 0.5, 0.3, "unlike")]
    public void Photos_of_two_phones_or_of_another_brightness_are_a_doubt_in_the_headline(
        string? phone, string? otherPhone, double bare, double otherBare, string expected)
    {
        Reading first = Taken(Needing(1).Read(1), 'a', phone, bare), later = Taken(Needing(1.1).Read(2), 'b', otherPhone, otherBare);
        ComparedPair pair = Compare(first, later), without = Compare(Needing(1).Read(1), Needing(1.1).Read(2));

        Assert.Equal(expected == "unlike", pair.Notes[0].Code == "tones-apart");
        Assert.Equal(expected == "alike", pair.Notes.Any(note => note.Code == "unlike-photos"));
        double wider = Math.Log(pair.RelativeDose!.High / pair.RelativeDose.Low)
            / Math.Log(without.RelativeDose!.High / without.RelativeDose.Low);
        Assert.True(expected == "alike" ? wider == 1 : wider > 1.3, $"{wider:F2} times as wide");
        if (expected == "unlike") Assert.Contains("one photo of both", pair.Notes[0].Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_series_leave_little_doubt()
    {
        Reading first = Series(Taken(Needing(1).Read(1), 'a', "Phone", 0.5)), later = Taken(Needing(1.1).Read(2), 'b', "Other", 0.3);
        ComparedPair known = Compare(first, Series(later)), unlike = Compare(first, later);

        Assert.Equal("tones-known", known.Notes[0].Code);
        Assert.Contains("one photo of both", unlike.Notes[0].Message, StringComparison.Ordinal);
        Assert.True(known.RelativeDose!.High / known.RelativeDose.Low < unlike.RelativeDose!.High / unlike.RelativeDose.Low);
        Assert.InRange(1.1, known.RelativeDose.Low, known.RelativeDose.High);

        static Reading Series(Reading reading) => reading with
        {
            Photos = reading.Photos.Select(photo => photo with
            {
                Response = new(PhotoResponse.Series, [-0.3, 0.1, 0, 0, 0]), Quality = photo.Quality! with { DarknessScaleError = 0.05 },
            }).ToValueList(),
        };
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void What_a_strip_brought_to_one_scale_leaves_little_doubt_whatever_is_known_of_the_scale(bool isKnown)
    {
        Reading first = Taken(Needing(1).Read(1), 'a', "Phone", 0.5), later = Taken(Needing(1.1).Read(2), 'b', "Other", 0.3);
        string scale = isKnown ? "series" : first.Photos[0].Sha256;
        // The first photo is the scale itself where no series is.
        if (isKnown) first = Brought(first, "series");
        ComparedPair one = Compare(first, Brought(later, scale)), other = Compare(first, Brought(later, "another")),
            unlike = Compare(first, later);

        Assert.Equal("tones-one-scale", one.Notes[0].Code);
        Assert.NotEqual("tones-one-scale", other.Notes[0].Code);
        Assert.True(WidthOf(one) < 0.8 * WidthOf(unlike), $"{WidthOf(one)} beside {WidthOf(unlike)}");
        Assert.Equal(1.1, one.RelativeDose!.Value, 0.05);

        static double WidthOf(ComparedPair pair) => Math.Log(pair.RelativeDose!.High / pair.RelativeDose.Low);
        Reading Brought(Reading reading, string scale) => reading with
        {
            Photos = reading.Photos.Select(photo => photo with
            {
                Response = new(PhotoResponse.Card, [-0.3, 0.1, 0, 0, 0]) { Scale = new(scale, 0.02, 0.15, isKnown) },
                Quality = photo.Quality! with { DarknessScaleError = 0.151 },
            }).ToValueList(),
        };
    }

    [Theory] // A curve that is only expected is as good as none where both photos have it: what is wrong with it drops out.
    [InlineData(-0.3, true)]
    [InlineData(-0.2, false)]
    [InlineData(null, false)]
    public void Photos_of_one_phone_are_alike_where_the_same_was_undone_in_both(double? later, bool isAlike)
    {
        Reading first = Undone(Taken(Needing(1).Read(1), 'a', "Phone", 0.5), -0.3);
        Reading other = Undone(Taken(Needing(1.1).Read(2), 'b', "Phone", 0.5), later);
        Assert.Equal(!isAlike, Compare(first, other).Notes.Any(note => note.Code == "tones-apart"));

        static Reading Undone(Reading reading, double? term) => reading with
        {
            Photos = reading.Photos.Select(photo => photo with
            {
                Response = term is { } known ? new(PhotoResponse.Phone, [known, 0, 0, 0, 0]) : null,
            }).ToValueList(),
        };
    }

    private static Reading Taken(Reading reading, char photo, string? phone, double bare) => reading with
    {
        Photos =
        [
            new()
            {
                File = "card.jpg", Sha256 = new(photo, 64), Light = Light.Front, WidthPx = 4000, HeightPx = 3000,
                Camera = phone is null ? null : new() { Model = phone },
                Quality = new() { DarknessScaleError = 0.15, BareLuminance = bare },
            },
        ],
    };

    [Fact]
    public void Two_readings_of_one_plan_may_be_two_photos_of_one_card()
    {
        Reading first = Needing(1).Read(1) with { PlanSha256 = new('a', 64) },
            later = Needing(1).Read(2) with { PlanSha256 = new('a', 64) };
        Assert.Contains(Compare(first, later).Notes, note => note.Code == "one-plan");
        Assert.DoesNotContain(Compare(first, later with { PlanSha256 = new('b', 64) }).Notes, note => note.Code == "one-plan");
    }

    [Fact]
    public void A_batch_that_lies_apart_is_seen_on_the_chart_of_many()
    {
        double[] needs = [1, 1.01, 0.99, 1.02, 0.98, 1.01, 1.0, 1.35, 1.0, 1.01];
        Comparison comparison = CardComparer.Compare(
            [.. needs.Select((need, i) => new LabelledReading($"delivery {i + 1}", Needing(need).Read(40 + i)))], new()).Value;

        ControlPoint outside = Assert.Single(comparison.Chart!.Points, point => point.IsOutside);
        Assert.Equal("delivery 8", outside.Label);
        Assert.Contains("delivery 8 lies outside", comparison.Chart.Finding, StringComparison.Ordinal);
    }

    [Fact]
    public void A_machine_that_fades_card_by_card_is_called_a_drift()
    {
        Comparison comparison = CardComparer.Compare(
            [.. Enumerable.Range(0, 7).Select(i => new LabelledReading($"month {i + 1}", Needing(Math.Pow(1.08, i)).Read(60 + i)))],
            new()).Value;

        Assert.Contains("a drift", comparison.Chart!.Finding, StringComparison.Ordinal);
    }

    [Fact]
    public void The_chart_goes_by_the_dates_of_the_photos_where_all_have_one()
    {
        LabelledReading[] cards = [.. Enumerable.Range(0, 7)
            .Select(i => new LabelledReading($"month {i + 1}", Taken(Needing(Math.Pow(1.08, i)).Read(60 + i), new(2026, i + 1, 3))))];
        LabelledReading[] mixed = [cards[3], cards[6], cards[0], cards[5], cards[1], cards[4], cards[2]];

        ControlChart chart = CardComparer.Compare(mixed, new()).Value.Chart!;
        Assert.Equal(cards.Select(card => card.Label), chart.Points.Select(point => point.Label));
        Assert.Equal(new DateTime(2026, 1, 3), chart.Points[0].Taken);
        Assert.Contains("a drift", chart.Finding, StringComparison.Ordinal);

        mixed[2] = mixed[2] with { Reading = mixed[2].Reading with { Photos = [] } };
        Assert.Equal(mixed.Select(card => card.Label), CardComparer.Compare(mixed, new()).Value.Chart!.Points.Select(point => point.Label));

        static Reading Taken(Reading reading, DateTime time) => reading with
        {
            Photos = [new()
            {
                File = "card.jpg",
                Sha256 = $"{time.Month:x64}",
                Light = Light.Front,
                WidthPx = 4000,
                HeightPx = 3000,
                Taken = time
            }],
        };
    }

    [Fact]
    public void What_may_be_the_cause_is_said_by_the_plans_alone()
    {
        Assert.Equal("batch-unnamed", CauseOf(null, "B-2"));
        Assert.Equal("cause-batch", CauseOf("B-1", "B-2"));
        Assert.Equal("cause-machine", CauseOf("B-1", "b-1"));

        static string CauseOf(string? first, string? later) => Compare(Of(Card, first, 70), Of(Needing(1.3), later, 71)).Notes[^1].Code;
        static Reading Of(SimulatedCard card, string? batch, int seed)
        {
            Reading reading = card.Read(seed);
            return reading with { Plan = reading.Plan with { Material = reading.Plan.Material with { Batch = batch } } };
        }
    }

    [Fact]
    public void Readings_that_cannot_be_compared_are_refused()
    {
        Reading engraved = Card.Read(80), cut = new SimulatedCut().Read(5);
        PhotoRecord photo = new() { File = "a.jpg", Sha256 = "12ab", Light = Light.Front, WidthPx = 1, HeightPx = 1 };
        Reading photographed = engraved with { Photos = [photo] };

        Assert.Equal("compare-few", RefusalOf([new("a", engraved)]).Code);
        Assert.Equal("compare-other-process", RefusalOf([new("a", engraved), new("b", cut)]).Code);
        Assert.Equal("compare-same-photo", RefusalOf([new("a", photographed), new("b", photographed)]).Code);
        Assert.Equal("repeats-few", RefusalOf([new("a", engraved), new("b", Card.Read(81))], [new("r", engraved)]).Code);
        Assert.Equal("repeats-cut", RefusalOf([new("a", engraved), new("b", Card.Read(81))], [new("r", cut), new("s", cut)]).Code);
        Reading smaller = (Card with { SpeedsMmPerMin = [1000, 2000] }).Read(82);
        Assert.Equal(
            "repeats-other-card", RefusalOf([new("a", engraved), new("b", Card.Read(81))], [new("r", engraved), new("s", smaller)]).Code);
        Assert.Throws<ArgumentException>(() => CardComparer.Compare([new("a", engraved), new("a", engraved)], new()));
        Assert.Throws<ArgumentOutOfRangeException>(() =>
            CardComparer.Compare([new("a", engraved), new("b", engraved)], new() { Margin = 0 }));

        static Refusal RefusalOf(LabelledReading[] readings, LabelledReading[]? repeats = null) =>
            CardComparer.Compare(readings, new() { Repeats = (repeats ?? []).ToValueList() }).Refusal!;
    }

    [Theory]
    [InlineData(2, 2)]
    [InlineData(3, 1)]
    [InlineData(3, 2)]
    [InlineData(4, 2)]
    [InlineData(9, 1)]
    public void Small_cards_of_any_kind_end_in_a_comparison_that_can_be_written(int columns, int rows)
    {
        SimulatedCard small = Card with
        {
            PowersPercent = [.. Enumerable.Range(0, columns).Select(i => 15 + 80.0 * i / (columns - 1))],
            SpeedsMmPerMin = [.. Enumerable.Range(0, rows).Select(i => 1500.0 * (i + 1))],
        };
        SimulatedCard[] others =
        [
            small,
            small with { Plateau = 0.4 },
            small with { Shape = 3, ThresholdDose = 0.5 },
            small with { ScaleDose = 0.01, ThresholdDose = 0 },
            small with { ScaleDose = 100 }
        ];
        foreach ((int i, SimulatedCard other) in others.Index())
        {
            Comparison comparison = CardComparer.Compare(
                [new("old", small.Read(100 + i)), new("new", other.Read(200 + i)), new("newer", small.Read(300 + i))], new()).Value;
            Assert.NotEmpty(CardJson.Write(comparison));   // a figure that is no number could not be written
        }
    }

    [Fact]
    public void Cells_without_any_measurement_end_in_words_not_in_an_error()
    {
        Reading read = Card.Read(90);
        Reading bare = read with { Cells = read.Cells.Select(cell => cell with { Darkness = null }).ToValueList() };
        ComparedPair pair = Compare(Card.Read(91), bare);

        Assert.Equal(PairVerdict.Unclear, pair.Verdict);
        Assert.Contains(pair.Notes, note => note.Code == "compare-nothing-measured");
    }

    /// <summary>A card of a batch that needs so many times the energy.</summary>
    private static SimulatedCard Needing(double factor) =>
        Card with { ThresholdDose = Card.ThresholdDose * factor, ScaleDose = Card.ScaleDose * factor };

    private static Reading Toned(Reading reading, double gain, int seed)
    {
        Chance chance = new(1000 + seed);
        return reading with
        {
            Cells = reading.Cells.Select(cell => cell with
            {
                Darkness = cell.Darkness! with { Value = gain * cell.Darkness.Value + 0.005 * chance.Normal() }
            }).ToValueList()
        };
    }

    private static ComparedPair Compare(Reading first, Reading later, double margin = 0.05) =>
        CardComparer.Compare([new("old", first), new("new", later)], new() { Margin = margin }).Value.Pairs[0];
}
