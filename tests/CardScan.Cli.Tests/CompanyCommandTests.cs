using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Cli.Tests;

/// <summary>Several cards in one command, and the archive's cards that one of them brings.</summary>
public sealed class CompanyCommandTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Theory]
    [InlineData("score")]
    [InlineData("next")]
    public void Unlike_cards_are_refused_in_one_line_that_names_both_readings_the_field_and_both_values(string command)
    {
        string first = Write(17, "B-1"), second = Write(18, "B-2");
        CliRun run = Cli.Run(command, first, second, "--out", _scratch["out"]);
        Assert.Equal(2, run.Code);
        Assert.StartsWith($"cardscan: {first} and {second}: ", run.OnlyLine(), StringComparison.Ordinal);
        foreach (string part in (string[])["ard 17 and card 18 cannot be scored together", "the batch of card 17 is", "B-1", "B-2"])
            Assert.Contains(part, run.OnlyLine(), StringComparison.Ordinal);
        Assert.False(Directory.Exists(_scratch["out"]));
    }

    [Theory]
    [InlineData("score")]
    [InlineData("next")]
    public void Alone_and_a_second_reading_contradict_each_other(string command)
    {
        CliRun run = Cli.Run(command, Write(17, "B-1"), Write(18, "B-1"), "--alone");
        Assert.Equal(2, run.Code);
        Assert.Contains("--alone cannot be used with a second reading. Leave one out.", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Named_files_are_scored_and_the_next_card_says_by_which_cards_it_was_planned()
    {
        string first = Write(17, "B-1"), second = Write(18, "B-1");
        CliRun scored = Cli.Run("score", second, first, "--json");
        Assert.Equal((0, 18), (scored.Code, CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(scored.Output)).Value.Plan.Number));
        CliRun next = Cli.Run("next", second, first, "--out", _scratch["next"]);
        Assert.Equal(0, next.Code);
        Assert.Contains("\nPlanned from card 18 together with card 17 (35 cells).\n", next.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_of_the_archive_brings_those_that_were_read_before_it_unless_it_stays_alone()
    {
        foreach (int number in (int[])[17, 18, 19]) Keep(Reading(number, "B-1"));
        Assert.Matches(@"Planned from card 18 together with card 17 \(35 cells, [0-9]+ [A-Z][a-z]{2} [0-9]{4}\)",
            Run("next", "18", "--out", _scratch["next"]).Output);
        Assert.DoesNotContain("Planned from", Run("next", "18", "--alone", "--out", _scratch["alone"]).Output, StringComparison.Ordinal);
        Assert.Equal(0, Run("score", "r2").Code);
        Assert.Equal(0, Run("score", "r2", "r3").Code);
    }

    [Fact]
    public void What_a_saved_reading_was_scored_with_is_told_where_it_is_scored_without()
    {
        string file =
            _scratch.Write("joined.json", CardJson.Write(Reading(18, "B-1") with { Joined = [new() { Number = 17, CellsUsed = 35 }] }));
        CliRun run = Cli.Run("score", file);
        Assert.Equal(0, run.Code);
        Assert.Contains("was scored together with card 17 (35 cells) when it was read, and is scored without now", run.OnlyLine(),
            StringComparison.Ordinal);
        Assert.Empty(Cli.Run("score", file, "--alone").Errors);
    }

    [Fact]
    public void Best_and_show_name_the_earlier_card_that_a_setting_stands_on_and_its_passes()
    {
        Reading reading = Reading(18, "B-1");
        CellReading earlier = reading.Cells[0] with { Settings = reading.Cells[0].Settings with { Passes = 4 } };
        Recommendation setting = new()
        {
            Goal = Goal.SureCut,
            PowerPercent = 55,
            SpeedMmPerMin = 180,
            Cell = new(0, 0),
            Card = 17,
            EarlierCell = earlier,
            Reason = "r",
            Confidence = 0.97
        };
        Keep(reading with { Recommendations = [setting], Joined = [new() { Number = 17, CellsUsed = 35 }] });

        Assert.Contains("180 mm/min at 55 %, 4 passes, air not noted, focus 1.5 mm below the surface (tested on card 17)",
            Run("settings").Output, StringComparison.Ordinal);
        Assert.Contains("180 mm/min at 55 % in 4 passes, focus offset -1.5 mm on card 17", Run("archive", "show", "18").Output,
            StringComparison.Ordinal);
        Assert.Contains("180 mm/min at 55 % in 4 passes on card 17", Run("archive", "show", "r1").Output, StringComparison.Ordinal);
        Assert.Contains("\"card\": 17", Run("settings", "--json").Output, StringComparison.Ordinal);
    }

    private CliRun Run(params string[] args) => Cli.RunWith(_scratch["archive"], args);

    private string Write(int number, string batch) => _scratch.Write($"{number}.json", CardJson.Write(Reading(number, batch)));

    private void Keep(Reading reading)
    {
        using CardArchive archive = CardArchive.Open(_scratch["archive"], TimeProvider.System).Value;
        byte[] plan = System.Text.Encoding.UTF8.GetBytes(CardJson.Write(reading.Plan));
        Assert.False(
            archive.KeepReading(new() { PlanJson = plan, Reading = reading with { PlanSha256 = CardJson.Sha256(plan) } }).IsRefused);
    }

    /// <summary>
    /// A cut card of 35 cells that are through where the line energy suffices, as another program would write its reading.
    /// </summary>
    private Reading Reading(int number, string batch)
    {
        string folder = _scratch[$"plan-{number}-{batch}"];
        Assert.Equal(0, Cli.Run("plan", "--process", "cut", "--material", "lime", "--thickness", "3", "--batch", batch, "--watts", "10",
            "--power", "40:100:7", "--speed", "150,200,260,340,450", "--number", $"{number}", "--focus-offset=-1.5", "--out", folder).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(Path.Combine(folder, "plan.json"))).Value.Plan;
        return new()
        {
            Format = Model.Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell =>
            {
                CellSettings settings = plan.SettingsOf(cell);
                SideReading side =
                    new() { State = settings.PowerPercent / settings.SpeedMmPerMin > 0.28 ? SideState.Open : SideState.Closed };
                return new CellReading { Row = cell.Row, Column = cell.Column, Settings = settings, Sides = new(side, side, side, side) };
            }).ToValueList(),
        };
    }
}
