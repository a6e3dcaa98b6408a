using CardScan.Model;

namespace CardScan.Scoring.Tests.Engraving;

/// <summary>
/// Really burned marks: 54 cards, 3 powers by 3 speeds, of six plastics under an ultraviolet laser. Their contrast is a proxy
/// (standard deviation of grey in a photo of the mark), so patterns are judged here, and not percentages.
/// Source: data of a master's thesis with DTU Construct, repository
/// leberneids/A-data-driven-approach-to-marking-of-plastic-materials-by-laser-micro-machining, commit 07077df;
/// fixtures/README.md, "readings".
/// </summary>
public sealed class BurnedMarksTests
{
    private const string Folder = "burned-uv";

    private static readonly string[] HigherDoseCodes = ["not-levelled-off", "levelling-uncertain"];

    public static TheoryData<string> Cards => [.. SavedReadings.In(Folder)];

    [Fact]
    public void All_cards_are_there() => Assert.Equal(54, SavedReadings.In(Folder).Count());

    [Theory]
    [MemberData(nameof(Cards))]
    public void A_setting_stated_at_90_percent_or_more_is_among_the_strong_marks_of_the_table(string file)
    {
        Reading scored = Score(file);

        foreach (Recommendation setting in scored.Recommendations.Where(r => r.Confidence >= 0.9))
            Assert.True(StrengthAt(scored, setting.Cell!) >= 0.9 * scored.Cells.Max(Strength),
                $"{setting.SpeedMmPerMin} mm/min at {setting.PowerPercent} %: {setting.Confidence}");
    }

    [Theory]
    [MemberData(nameof(Cards))]
    public void A_probability_never_contradicts_its_own_interval(string file)
    {
        foreach (Recommendation setting in Score(file).Recommendations.Where(r => r.Confidence > 0.98))
            Assert.True(setting.Interval!.Low >= 0.94, $"{setting.Confidence} with {setting.Interval}");
    }

    [Theory]
    [MemberData(nameof(Cards))]
    public void A_fall_at_the_highest_dose_bars_the_advice_to_go_higher(string file)
    {
        Reading scored = Score(file);
        CellReading highest = scored.Cells.MaxBy(cell => cell.Dose!.Value)!;
        if (Strength(highest) >= 0.85 * scored.Cells.Max(Strength)) return;

        Assert.DoesNotContain(scored.Advice, advice => HigherDoseCodes.Contains(advice.Code));
    }

    [Theory]
    [MemberData(nameof(Cards))]
    public void A_cell_that_was_left_out_is_never_named_the_strongest(string file)
    {
        Reading scored = Score(file);

        foreach (Recommendation setting in scored.Recommendations)
            Assert.DoesNotContain(
                CellFlag.Outlier, scored.Cells.Single(cell => cell.Row == setting.Cell!.Row && cell.Column == setting.Cell.Column).Flags);
        foreach (CellReading left in scored.Cells.Where(cell => cell.Flags.Contains(CellFlag.Outlier)))
        {
            string name = $"strongest cell ({left.Settings.SpeedMmPerMin:0.#} mm/min at {left.Settings.PowerPercent:0.#} %)";
            Assert.DoesNotContain(scored.Advice, advice => advice.Message.Contains(name, StringComparison.Ordinal));
        }
    }

    /// <summary>
    /// Marks that weaken the slower the beam goes get stronger with more speed, and so for power: the advice names
    /// that way, and how far.
    /// </summary>
    [Fact]
    public void Cards_beyond_the_peak_are_told_to_go_faster_or_weaker()
    {
        int beyond = 0;
        foreach (string file in SavedReadings.In(Folder))
        {
            Reading scored = Score(file);
            if (scored.Advice.FirstOrDefault(advice => advice.Code == "weakens-all-over") is not { } told) continue;
            beyond++;
            double slowest = Mean(scored, cell => cell.Settings.SpeedMmPerMin == 12000),
                fastest = Mean(scored, cell => cell.Settings.SpeedMmPerMin == 72000);
            double weakest = Mean(scored, cell => cell.Settings.PowerPercent == 60),
                strongest = Mean(scored, cell => cell.Settings.PowerPercent == 100);
            if (told.Message.StartsWith("Go faster", StringComparison.Ordinal)) Assert.True(fastest > slowest, file);
            else Assert.True(weakest > strongest && told.Message.StartsWith("Go weaker", StringComparison.Ordinal), file);
        }

        Assert.InRange(beyond, 10, 40);
    }

    private static double Mean(Reading reading, Func<CellReading, bool> which) => reading.Cells.Where(which).Average(Strength);

    private static Reading Score(string file) => CardScorer.Score(SavedReadings.Load(Folder, file), ScoringOptions.Default);

    private static double StrengthAt(Reading reading, CellAddress at) =>
        Strength(reading.Cells.Single(cell => cell.Row == at.Row && cell.Column == at.Column));

    private static double Strength(CellReading cell) => Math.Abs(cell.Contrast!.Value);
}
