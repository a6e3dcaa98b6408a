using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>What is used today, as the archive tells it: which card counts, what agrees, what speaks against it.</summary>
public sealed class SettingsTests : IDisposable
{
    private readonly Scratch _scratch = new();
    private readonly CardArchive _archive;
    private int _number;

    public SettingsTests() => _archive = _scratch.Open();

    public void Dispose()
    {
        _archive.Dispose();
        _scratch.Dispose();
    }

    [Fact]
    public void A_machine_of_the_same_name_with_other_power_wavelength_or_beam_is_another_machine()
    {
        Keep(machine: new() { Name = "bench", RatedOpticalWatts = 10, WavelengthNm = 455 });
        Keep(machine: new() { Name = "bench", RatedOpticalWatts = 10 });
        Keep(machine: new() { Name = "bench", RatedOpticalWatts = 20, WavelengthNm = 455 });
        Keep(machine: new() { Name = "bench", RatedOpticalWatts = 20, WavelengthNm = 1064 });
        Keep(machine: new() { Name = "bench", RatedOpticalWatts = 20, WavelengthNm = 1064, BeamXMm = 0.1, BeamYMm = 0.2 });
        Keep(machine: new() { Name = "bench", RatedOpticalWatts = 20, WavelengthNm = 1064, BeamXMm = 0.3, BeamYMm = 0.2 });
        string[] machines = [.. Settings().Select(setting => Voice.Tell(setting.MachineFigure()))];
        // Of 10 W two cards are one machine's: what one plan does not tell contradicts nothing. Of 20 W no beam is everybody's.
        Assert.Equal(
            [
                "bench, 20 W, 1064 nm, beam 0.3 × 0.2 mm", "bench, 20 W, 1064 nm, beam 0.1 × 0.2 mm", "bench, 20 W, 1064 nm",
                "bench, 20 W, 455 nm", "bench, 10 W, 455 nm",
            ],
            machines);
        Assert.Equal([2], Settings().Where(setting => setting.Machine.RatedOpticalWatts == 10).Select(setting => setting.Card.Number));
    }

    [Fact]
    public void The_newest_card_counts_and_a_card_that_agrees_confirms_it()
    {
        Keep(speed: 1000, power: 60);
        Keep(speed: 1200, power: 70);
        KeptSetting setting = Assert.Single(Settings());
        Assert.Equal((2, 1200), (setting.Card.Number, setting.Recommendation.SpeedMmPerMin));
        Assert.Equal((SettingStanding.Sure, true), (setting.Standing, setting.IsConfirmed));
        Assert.Equal("Confirmed by card 1, 2026-03-01 (r1).", Voice.Tell(setting.ConfirmedFigure()));
        Assert.Null(setting.NextStep());
    }

    [Fact]
    public void Of_a_card_that_was_read_often_only_the_newest_reading_for_each_goal_is_looked_at()
    {
        Plan plan = Kept.Plan();
        for (int i = 0; i < 5; i++)
        {
            ReadingToKeep what = Kept.Reading(plan, $"photo {i}");
            Recommendation first = what.Reading.Recommendations[0];
            string[] goals = i == 1 ? [Goal.Darkest, Goal.FastestFullMark] : i < 4 ? [Goal.FastestFullMark] : [];
            ValueList<Recommendation> recommended = goals.Select(goal => first with { Goal = goal, PowerPercent = i + 1 }).ToValueList();
            Assert.False(_archive.KeepReading(what with { Reading = what.Reading with { Recommendations = recommended } }).IsRefused);
        }

        using Database database = _scratch.OpenDatabase();
        Assert.Equal(
            [(null, 5L, 0), (Goal.FastestFullMark, 4L, 4), (Goal.Darkest, 2L, 2)],
            SettingRow.Of(database, new(), SettingKind.All(database, new())).Select(row => (row.Goal, row.ReadingId, row.PowerPercent)));
    }

    [Fact]
    public void A_card_without_another_is_to_be_confirmed()
    {
        Keep();
        KeptSetting setting = Assert.Single(Settings());
        Assert.True(setting.IsSetting);
        Assert.Equal("Not confirmed by another card yet.", Voice.Tell(setting.ConfirmedFigure()));
        Assert.EndsWith("cardscan next r1", Voice.Tell(setting.NextStep()!), StringComparison.Ordinal);
    }

    [Theory] // 1.25 is the factor up to which two energies count as the same.
    [InlineData(1240, CardOpinion.Agrees)]
    [InlineData(1260, CardOpinion.Differs)]
    [InlineData(810, CardOpinion.Agrees)]
    [InlineData(790, CardOpinion.Differs)]
    public void Cards_agree_where_their_energies_are_near(double speed, CardOpinion opinion)
    {
        Keep(speed: speed, power: 50);
        Keep(speed: 1000, power: 50);
        Assert.Equal(opinion, Assert.Single(Assert.Single(Settings()).Others).Opinion);
    }

    [Fact]
    public void Batches_that_disagree_are_told_with_the_command_that_compares_them()
    {
        Keep(batch: "A", speed: 2000);
        Keep(batch: "B", speed: 1000);
        KeptSetting newest = Assert.Single(Settings()), older = Assert.Single(Settings(new() { Batch = "A" }));
        Assert.Equal("B", newest.Card.Batch);
        Assert.True(newest.IsSetting);
        Assert.Equal("An older card of batch A differs: 2000 mm/min at 50 % (card 1, 2026-03-01, r1).", Against(newest));
        Assert.Equal("A newer card of batch B differs: 1000 mm/min at 50 % (card 2, 2026-03-02, r2).", Against(older));
        Assert.EndsWith(": cardscan compare r1 r2", Voice.Tell(newest.NextStep()!), StringComparison.Ordinal);
        Assert.Equal(newest.NextStep(), older.NextStep());
    }

    [Fact]
    public void A_newer_card_of_the_batch_that_found_none_overtakes_a_setting()
    {
        Keep();
        Keep(goal: null);
        KeptSetting setting = Assert.Single(Settings());
        Assert.Equal((SettingStanding.Overtaken, false), (setting.Standing, setting.IsSetting));
        Assert.Contains("no setting any more", Voice.Tell(setting.GoalFigure()), StringComparison.Ordinal);
        Assert.EndsWith(": cardscan next r2", Voice.Tell(setting.NextStep()!), StringComparison.Ordinal);
        // Older than the setting, it is only why the newer card was burned.
        Keep();
        Assert.Equal(SettingStanding.Sure, Assert.Single(Settings()).Standing);
        Assert.DoesNotContain(Assert.Single(Settings()).Others, other => other.Opinion == CardOpinion.FoundNone);
    }

    [Fact]
    public void A_card_that_could_have_no_setting_speaks_against_none()
    {
        Keep(process: Process.Cut, goal: Goal.SureCut, confidence: 0.97);
        Keep(process: Process.Cut, goal: null, change: reading => reading with { Cells = [reading.Cells[0] with { Sides = null }] });
        Assert.Empty(Assert.Single(Settings()).Others);
    }

    [Theory]
    [InlineData(Goal.SureCut, 0.46, false)]
    [InlineData(Goal.SureCut, 0.949, false)]
    [InlineData(Goal.SureCut, 0.95, true)]
    [InlineData(Goal.CleanCut, null, false)]
    [InlineData(Goal.FastestFullMark, 0.79, false)]
    [InlineData(Goal.FastestFullMark, 0.8, true)]
    [InlineData(Goal.Darkest, null, true)]
    public void Below_the_demanded_probability_nothing_is_called_a_setting(string goal, double? confidence, bool isSetting)
    {
        Keep(process: goal is Goal.SureCut or Goal.CleanCut ? Process.Cut : Process.Engrave, goal: goal, confidence: confidence);
        KeptSetting setting = Assert.Single(Settings());
        Assert.Equal(isSetting ? SettingStanding.Sure : SettingStanding.Unsure, setting.Standing);
        Assert.Equal(!isSetting, Voice.Tell(setting.GoalFigure()).Contains("no setting yet", StringComparison.Ordinal));
        Assert.EndsWith(": cardscan next r1", Voice.Tell(setting.NextStep()!), StringComparison.Ordinal);
    }

    [Fact]
    public void A_cut_that_bridges_hold_says_so_and_what_to_do_about_them()
    {
        Advice advice = new(Codes.BridgedSides, ("bridged", 3), ("sides", 40), ("cells", 2), ("strongest", "600 mm/min at 80 %"));
        Keep(process: Process.Cut, goal: Goal.SureCut, confidence: 0.9, change: reading => reading with { Advice = [advice] });
        KeptSetting setting = Assert.Single(Settings());
        Assert.Equal(SettingStanding.Bridged, setting.Standing);
        Assert.Equal(advice.Message, setting.Bridges!.Message);
        Assert.Null(setting.NextStep());
    }

    [Fact]
    public void Cards_burned_in_another_way_are_not_held_against_each_other()
    {
        Keep(speed: 2000, change: WithPasses(4));
        Keep(speed: 1000, change: WithPasses(1));
        Assert.Empty(Assert.Single(Settings()).Others);
        Keep(speed: 1000, change: WithPasses(1), air: new() { IsOn = true });
        Assert.True(Assert.Single(Settings()).IsConfirmed);
        Assert.True(Assert.Single(Settings()).Air!.IsOn);
        Keep(speed: 1000, change: WithPasses(1), air: new() { IsOn = false });
        Assert.Equal([2], Assert.Single(Settings()).Others.Select(other => other.Number));

        static Func<Reading, Reading> WithPasses(int passes) => reading => reading with
        {
            Cells = [reading.Cells[0] with { Settings = reading.Cells[0].Settings with { Passes = passes } }],
            Recommendations = [reading.Recommendations[0] with { Cell = new(0, 0) }],
        };
    }

    [Fact]
    public void What_was_read_last_comes_first_and_not_what_comes_first_by_name()
    {
        Keep(material: "ash");
        Keep(material: "zebrano");
        Keep(material: "maple");
        Assert.Equal(["maple", "zebrano", "ash"], Settings().Select(setting => setting.Card.Material));
    }

    [Theory]
    [InlineData("birch 3mm", new[] { "birch plywood 3 mm", "Birch ply 3mm", "birch plywood 2.9 mm" })]
    [InlineData("birch 3 mm", new[] { "birch plywood 3 mm", "Birch ply 3mm", "birch plywood 2.9 mm" })]
    [InlineData("birch plywoods", new[] { "birch plywood 2.9 mm", "Birch ply 3mm", "birch plywood 3 mm", "birch plywood 4 mm" })]
    [InlineData("birch 0.157in", new[] { "birch plywood 4 mm" })]
    [InlineData("6mm", new string[0])]
    public void Words_may_hold_the_thickness_and_near_ones_are_found_behind_it(string words, string[] found)
    {
        Keep(material: "birch plywood", thicknessMm: 4);
        Keep(material: "birch plywood", thicknessMm: 3);
        Keep(material: "Birch ply 3mm", thicknessMm: null);
        Keep(material: "birch plywood", thicknessMm: 2.9);
        ValueList<KeptSetting> settings = Settings(new ArchiveQuery { Text = words }.ForSettings());
        Assert.Equal(found.Order(), settings.Select(setting => Voice.Tell(setting.Card.MaterialFigure())).Order());
        if (words.Contains('3')) Assert.Equal(2.9, settings[^1].Card.ThicknessMm);
    }

    private void Keep(
        string material = "birch plywood", double? thicknessMm = 3, string? batch = "B-1", Machine? machine = null,
        Process process = Process.Engrave, string? goal = Goal.FastestFullMark, double speed = 1500, double power = 50,
        double? confidence = 0.97, AirAssist? air = null, Func<Reading, Reading>? change = null)
    {
        Plan sample = Kept.Plan(++_number);
        Plan plan = sample with
        {
            Process = process,
            Material = new() { Name = material, ThicknessMm = thicknessMm, Batch = batch },
            Machine = machine ?? sample.Machine,
            Fixed = sample.Fixed with { AirAssist = air },
        };
        ReadingToKeep what = Kept.Reading(plan, $"photo {_number}");
        Reading reading = what.Reading with
        {
            Recommendations = goal is null
                ? []
                : [new() { Goal = goal, SpeedMmPerMin = speed, PowerPercent = power, Confidence = confidence, Reason = "r" }],
        };
        Assert.False(_archive.KeepReading(what with { Reading = change?.Invoke(reading) ?? reading }).IsRefused);
        _scratch.Clock.Now = _scratch.Clock.Now.AddDays(1);
    }

    private static string Against(KeptSetting setting) => Voice.Tell(Assert.Single(setting.Against).ToFigure());

    private ValueList<KeptSetting> Settings(ArchiveQuery? query = null) => _archive.Settings(query ?? new()).Value;
}
