using CardScan.Model;

namespace CardScan.Cli.Tests;

public class NextCommandTests
{
    [Fact]
    public void A_card_that_was_planned_and_not_read_yet_is_to_be_burned_and_read()
    {
        using Scratch scratch = new();
        File.Copy(Cli.Plan, Path.Combine(Directory.CreateDirectory(scratch["card"]).FullName, "plan.json"));
        CliRun run = Cli.Run("next", scratch["card"], "--out", scratch["out"]);
        Assert.Equal(2, run.Code);
        Assert.Contains("holds a planned card that was not read yet", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Contains($"cardscan read PHOTO --plan {Path.Combine(scratch["card"], "plan.json")} [card-unread]", run.OnlyLine(),
            StringComparison.Ordinal);
        Assert.False(Directory.Exists(scratch["out"]));
    }

    [Fact]
    public void The_next_card_is_written_with_its_reason_and_keeps_material_machine_and_sizes()
    {
        using Scratch scratch = new();
        Plan old = WriteReading(scratch, (power, speed) => power / speed > 0.28);

        CliRun run = Cli.Run("next", scratch["reading.json"], "--out", scratch["out"], "--split-drawing");

        Assert.Equal(0, run.Code);
        string[] files = [.. scratch.Files.Where(file => file.StartsWith("out/", StringComparison.Ordinal))];
        Assert.Equal(["out/by-setting", "out/card.svg", "out/plan.json", "out/preview.png", "out/settings.csv", "out/settings.html"],
            files.Where(file => !file.EndsWith(".svg", StringComparison.Ordinal) || file == "out/card.svg").Order(StringComparer.Ordinal));
        Assert.Equal(36 + 2, files.Count(file => file.StartsWith("out/by-setting/", StringComparison.Ordinal)));
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal((18, Process.Cut), (plan.Number, plan.Process));
        Assert.Equal(
            (old.Material, old.Machine, old.Cells[0].WidthMm, 36), (plan.Material, plan.Machine, plan.Cells[0].WidthMm, plan.Cells.Count));
        Assert.Contains("The next card lies around", run.Output, StringComparison.Ordinal);
        Assert.Contains("is known to ±", run.Output, StringComparison.Ordinal);
        Assert.Contains("Stay beside the machine", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_profile_of_the_machine_that_burned_the_card_gives_the_machine_file()
    {
        using Scratch scratch = new();
        Plan old = WriteReading(scratch, (power, speed) => power / speed > 0.28);
        string watts = $"{old.Machine.RatedOpticalWatts}";
        string[] limits = ["--area", "400x400", "--fastest-feed", "6000mm/min", "--full-power-s", "1000"];
        Assert.Equal(0, Cli.RunIn(scratch["."], ["profile", "machine", old.Machine.Name, "--watts", watts, .. limits]).Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], ["profile", "machine", "my bench", "--watts", watts, .. limits]).Code);
        string more = $"{old.Machine.RatedOpticalWatts + 5}";
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "machine", "stronger", "--watts", more).Code);
        string[] next = ["next", "reading.json", "--no-archive", "--out"];

        Assert.Equal(0, Cli.RunIn(scratch["."], [.. next, "named", "--machine", "my bench"]).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["named/plan.json"])).Value.Plan;
        Assert.True(File.Exists(scratch["named/card.gcode"]));
        Assert.Equal((old.Machine.Name, 6000.0), (plan.Machine.Name, plan.Machine.FastestFeedMmPerMin)); // both cards stay of one kind

        CliRun other = Cli.RunIn(scratch["."], [.. next, "other", "--machine", "stronger"]);
        Assert.Equal(2, other.Code);
        Assert.EndsWith("[next-other-machine]", other.OnlyLine(), StringComparison.Ordinal);

        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", "my bench").Code);
        Assert.DoesNotContain("Using your default", Cli.RunIn(scratch["."], [.. next, "foreign"]).Errors, StringComparison.Ordinal);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", old.Machine.Name).Code);
        Assert.StartsWith($"Using your default machine \"{old.Machine.Name}\".", Cli.RunIn(scratch["."], [.. next, "usual"]).Errors,
            StringComparison.Ordinal);
        Assert.True(File.Exists(scratch["usual/card.gcode"]));
    }

    [Fact]
    public void Size_steps_number_and_limits_are_as_asked()
    {
        using Scratch scratch = new();
        WriteReading(scratch, (_, _) => true);

        Assert.Equal(0, Cli.Run("next", scratch["reading.json"], "--out", scratch["out"], "--number", "200", "--cells", "4x5",
            "--power-step", "5", "--fastest", "500").Code);

        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal((200, 4, 5), (plan.Number, plan.Rows.Values.Count, plan.Columns.Values.Count));
        Assert.All(plan.Columns.Values, power => Assert.Equal(0, power % 5));
        Assert.All(plan.Rows.Values, speed => Assert.InRange(speed, 10, 500));
    }

    [Fact]
    public void Another_plan_is_never_replaced()
    {
        using Scratch scratch = new();
        WriteReading(scratch, (power, speed) => power / speed > 0.28);
        Assert.Equal(0, Cli.Run("next", scratch["reading.json"], "--out", scratch["out"]).Code);
        string plan = File.ReadAllText(scratch["out/plan.json"]);

        CliRun run = Cli.Run("next", scratch["reading.json"], "--out", scratch["out"], "--cells", "9");

        Assert.Equal(2, run.Code);
        Assert.Contains("holds another plan", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(plan, File.ReadAllText(scratch["out/plan.json"]));
    }

    [Theory]
    [InlineData("--cells", "1x5")]
    [InlineData("--cells", "30x30")]
    [InlineData("--cells", "many")]
    [InlineData("--power-step", "3")]
    [InlineData("--slowest", "2")]
    [InlineData("--fastest", "15")]
    [InlineData("--goal", "cheapest")]
    public void Wrong_options_end_in_a_clear_line_and_exit_code_2_without_a_file(string option, string value)
    {
        using Scratch scratch = new();
        WriteReading(scratch, (_, _) => true);
        CliRun run = Cli.Run("next", scratch["reading.json"], "--out", scratch["out"], option, value);
        Assert.Equal(2, run.Code);
        Assert.Contains(value, run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain(scratch.Files, file => file.StartsWith("out", StringComparison.Ordinal));
    }

    [Fact]
    public void A_reading_without_a_judged_side_is_refused_in_one_line()
    {
        using Scratch scratch = new();
        WriteReading(scratch, null);
        CliRun run = Cli.Run("next", scratch["reading.json"], "--out", scratch["out"]);
        Assert.Equal(2, run.Code);
        Assert.Contains("gives no basis for the next one", run.OnlyLine(), StringComparison.Ordinal);
    }

    /// <summary>A reading as another program would write it: settings and sides alone.</summary>
    private static Plan WriteReading(Scratch scratch, Func<double, double, bool>? isOpen)
    {
        Assert.Equal(0, Cli.Run("plan", "--process", "cut", "--material", "lime", "--thickness", "3", "--watts", "10", "--power",
            "40:100:7", "--speed", "150,200,260,340,450", "--number", "17", "--focus-offset=-1.5", "--out", scratch["old"]).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["old/plan.json"])).Value.Plan;
        Reading reading = new()
        {
            Format = Reading.CurrentFormat,
            Plan = plan,
            Cells = plan.Cells.Select(cell => CellOf(cell, plan, isOpen)).ToValueList(),
        };
        scratch.Write("reading.json", CardJson.Write(reading));
        return plan;
    }

    private static CellReading CellOf(Cell cell, Plan plan, Func<double, double, bool>? isOpen)
    {
        CellSettings settings = plan.SettingsOf(cell);
        SideReading? side = isOpen is null
            ? null
            : new() { State = isOpen(settings.PowerPercent, settings.SpeedMmPerMin) ? SideState.Open : SideState.Closed };
        return new()
        {
            Row = cell.Row,
            Column = cell.Column,
            Settings = settings,
            Sides = side is null ? null : new(side, side, side, side)
        };
    }
}
