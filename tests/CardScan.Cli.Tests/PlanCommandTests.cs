using CardScan.Model;

namespace CardScan.Cli.Tests;

public class PlanCommandTests
{
    private static readonly string[] Usual =
        ["plan", "--material", "birch plywood", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3"];

    [Fact]
    public void A_plan_and_its_drawing_are_written_and_the_cautions_shown()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run([.. Usual, "--number", "42", "--out", scratch["out"]]);
        Assert.Equal(0, run.Code);
        Assert.Equal(
            ["out", "out/card.svg", "out/plan.json", "out/preview.png", "out/settings.csv", "out/settings.html"], scratch.Files);
        Assert.Equal(42, CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Number);
        Assert.Contains("EN 207", run.Errors, StringComparison.Ordinal);
        Assert.Contains("Stay beside the machine", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("EN 207", run.Output, StringComparison.Ordinal);
        Assert.Contains("There is no card.gcode", run.Errors, StringComparison.Ordinal);
        Assert.Contains("Burning takes about", run.Output, StringComparison.Ordinal);
        Assert.Contains("The cell with the most energy is r1 c4: ", run.Output, StringComparison.Ordinal); // the slowest row, full power
    }

    [Fact]
    public void A_drawing_for_each_setting_is_written_on_request_and_listed_as_one_folder()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run([.. Usual, "--number", "42", "--split-drawing", "--out", scratch["out"]]);
        Assert.Equal(0, run.Code);
        Assert.EndsWith($"{scratch["out/by-setting"]}\n", run.Output.ReplaceLineEndings("\n"), StringComparison.Ordinal);
        string[] names =
            [.. Directory.GetFiles(scratch["out/by-setting"]).Select(path => Path.GetFileName(path)).Order(StringComparer.Ordinal)];
        Assert.Equal(4 * 3 + 2, names.Length);
        Assert.Equal(["01-markers.svg", "02-labels.svg"], names[..2]);
        string[] lines = File.ReadAllLines(scratch["out/settings.csv"]);
        Assert.Equal(names.Length + 1, lines.Length);
        for (int i = 2; i < names.Length; i++)
        {
            string[] fields = lines[i + 1].Split(',');
            Assert.Equal($"{i + 1:00}-{fields[5]}mm-min-{fields[4]}percent.svg", names[i]);
            Assert.Contains(fields[1], File.ReadAllText(scratch[$"out/by-setting/{names[i]}"]), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_machine_file_comes_with_a_dry_run_whose_beam_is_off_or_a_pointer()
    {
        using Scratch scratch = new();
        string[] known = [.. Usual, "--number", "42", "--area", "400x400", "--fastest-feed", "6000", "--full-power-s", "1000"];
        Assert.Equal(0, Cli.Run([.. known, "--out", scratch["off"]]).Code);
        Assert.DoesNotContain("M3", Commands("off"), StringComparison.Ordinal);
        Assert.Equal(0, Cli.Run([.. known, "--pointer-power", "0.5", "--out", scratch["on"]]).Code);
        Assert.Contains("M3 S0", Commands("on"), StringComparison.Ordinal);
        Assert.Contains("S5", Commands("on"), StringComparison.Ordinal);
        Assert.Equal(File.ReadAllText(scratch["off/card.gcode"]), File.ReadAllText(scratch["on/card.gcode"]));

        string Commands(string folder) =>
            string.Join('\n', File.ReadLines(scratch[$"{folder}/outline.gcode"]).Where(line => line[0] != '('));
    }

    [Theory]
    [InlineData("0", "--pointer-power cannot be \"0\". Give more than 0, at most 3 %")]
    [InlineData("10", "--pointer-power cannot be \"10\". Give more than 0, at most 3 %: more is no pointer but burns.")]
    [InlineData("1", "A beam of 10600 nm cannot be seen", "--wavelength", "10600")]
    public void A_pointer_that_would_burn_or_that_nobody_sees_is_refused(string power, string says, params string[] more)
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run([.. Usual, "--pointer-power", power, .. more, "--out", scratch["out"]]);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
        Assert.Empty(scratch.Files);
    }

    [Fact]
    public void The_size_is_that_of_the_piece_where_a_paper_mask_lies_around_it()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run([.. Usual, "--frame", "a4", "--no-archive", "--out", scratch["out"]]);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Contains(
            $"4 × 3 cells on a piece of {plan.Frame!.Window.WidthMm} × {plan.Frame.Window.HeightMm} mm, in a paper mask of "
                + $"{plan.Card.WidthMm} × {plan.Card.HeightMm} mm,",
            run.Output.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public void A_first_card_needs_neither_power_nor_speed_and_says_what_they_rest_on()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("plan", "--material", "birch plywood", "--thickness", "3", "--watts", "10", "--cut", "--out", scratch["out"]);
        Assert.Equal(0, run.Code);
        Assert.Contains("Power and speed were chosen around", run.Output, StringComparison.Ordinal);
        Assert.Contains("the calculated energy that burns plywood", run.Output, StringComparison.Ordinal);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal((Process.Cut, StartBasis.Computed, "plywood"), (plan.Process, plan.Start!.Basis, plan.Start.Kind));
    }

    [Theory]
    [InlineData(null, 6)] // 8 mm would take 37 minutes
    [InlineData("8", 8)]
    public void The_cells_of_a_first_card_are_no_larger_than_half_an_hour_allows_unless_their_size_is_given(string? cell, double expected)
    {
        using Scratch scratch = new();
        string[] plan = ["plan", "--material", "painted acrylic", "--watts", "10", "--fastest-feed", "6000", "--out", scratch["out"]];
        CliRun run = Cli.Run([.. plan, .. cell is null ? Array.Empty<string>() : ["--cell", cell]]);
        Assert.Equal(0, run.Code);
        Assert.Equal(expected, CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Cells[0].WidthMm);
        Assert.Equal(cell is not null, run.Errors.Contains("must not run unattended", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("P.V.C film", "is dangerous to burn: PVC gives off hydrogen chloride")] // before anything about its kind
    [InlineData("the usual stuff", "does not say what kind of material it is")]
    [InlineData("clear acrylic", "A blue diode will not mark")]
    public void A_first_card_that_cannot_be_chosen_is_refused_with_the_reason(string material, string reason)
    {
        CliRun run = Cli.Run("plan", "--material", material, "--watts", "10");
        Assert.Equal(2, run.Code);
        Assert.Contains(reason, run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void An_earlier_card_of_the_material_takes_the_place_of_the_table()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch[""], "read", Cli.Photo, "--plan", Cli.Plan, "--json").Code);
        Plan known = CardJson.ReadPlan(File.ReadAllBytes(Cli.Plan)).Value.Plan;
        string[] plan =
            ["plan", "--material", known.Material.Name, "--machine", known.Machine.Name, "--watts", $"{known.Machine.RatedOpticalWatts}"];
        CliRun run = Cli.RunIn(scratch[""], [.. plan, "--out", scratch["out"]]);
        Assert.True(run.Code == 0, run.Errors);
        Assert.Contains("what r1 needed on this machine", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_dangerous_material_is_warned_of_when_its_profile_is_kept()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("profile", "material", "PVC banner", "--profiles", scratch["kept"]);
        Assert.Contains("PVC gives off hydrogen chloride", run.Errors, StringComparison.Ordinal);
        Assert.Empty(Cli.Run("profile", "material", "birch", "--profiles", scratch["kept"]).Errors);
    }

    [Fact]
    public void A_machine_that_is_kept_is_planned_with_by_name_and_the_command_line_overrides_it()
    {
        using Scratch scratch = new();
        string[] profiles = ["--profiles", scratch["kept"]];
        Assert.Equal(0, Cli.Run(["profile", "machine", "Bench diode", "--watts", "10", "--wavelength", "455", "--area", "400x380",
            "--fastest-feed", "6000", "--full-power-s", "1000", .. profiles]).Code);
        Assert.Equal(0,
            Cli.Run(["profile", "material", "birch", "--thickness", "3", "--mark-power", "60", "--mark-speed", "2000", .. profiles]).Code);
        string list = Cli.Run(["profile", "list", .. profiles]).Output;
        Assert.Contains(
            "Bench diode (machine), 10 W, 455 nm, work area 400 × 380 mm, up to 6000 mm/min, S1000 is full power  "
                + $"{scratch["kept/machines/bench-diode.json"]}",
            list, StringComparison.Ordinal);
        Assert.Contains($"birch (material), 3 mm, marks with 2000 mm/min at 60 %  {scratch["kept/materials/birch.json"]}", list,
            StringComparison.Ordinal);

        string[] plan = ["plan", "--machine", "bench diode", "--material", "birch", "--power", "20:80:4", "--speed", "1000:3000:3",
            "--acceleration", "900", .. profiles, "--out", scratch["out"]];
        CliRun run = Cli.Run(plan);
        Assert.Equal(0, run.Code);
        Assert.Contains("rated for 455 nm", run.Errors, StringComparison.Ordinal);
        Assert.True(File.Exists(scratch["out/card.gcode"]));
        Plan made = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal((10.0, 900.0, 1000.0), (made.Machine.RatedOpticalWatts, made.Machine.AccelerationMmPerS2, made.Machine.FullPowerS));
        Assert.Equal((3.0, 60.0, 2000.0), (made.Material.ThicknessMm, made.Burning!.Marks.PowerPercent, made.Burning.Marks.SpeedMmPerMin));
    }

    [Fact]
    public void A_profile_is_replaced_only_when_that_is_said()
    {
        using Scratch scratch = new();
        string[] keep = ["profile", "machine", "m", "--profiles", scratch["kept"], "--watts"];
        Assert.Equal(0, Cli.Run([.. keep, "10"]).Code);
        Assert.Contains("holds another profile", Cli.Run([.. keep, "5"]).OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(0, Cli.Run([.. keep, "5", "--replace"]).Code);
    }

    [Fact]
    public void A_profile_that_cannot_be_read_hides_no_other_one_of_the_list()
    {
        using Scratch scratch = new();
        string[] profiles = ["--profiles", scratch["kept"]];
        Assert.Equal(0, Cli.Run(["profile", "machine", "b", "--watts", "5", .. profiles]).Code);
        scratch.Write("kept/machines/a.json", "{}");
        CliRun run = Cli.Run(["profile", "list", .. profiles]);
        Assert.Contains("a.json", run.OnlyLine(), StringComparison.Ordinal);
        Assert.StartsWith("b (machine), 5 W  ", run.Output, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("machines/a.json", "{}", "--machine", "$.format is missing")]
    [InlineData("machines/a.json", "{\"format\":\"cardscan-machine/1\",\"machine\":{\"name\":\"a\",\"ratedOpticalWatts\":0}}", "--machine",
        "$.machine.ratedOpticalWatts is 0")]
    [InlineData("materials/a.json", "{\"format\":\"cardscan-material/1\",\"material\":{\"name\":\"a\",\"thickness\":3}}", "--material",
        "$.material.thickness is not a field")]
    public void A_wrong_profile_ends_in_one_clear_line_that_names_file_and_field(string file, string text, string option, string says)
    {
        using Scratch scratch = new();
        Directory.CreateDirectory(Path.GetDirectoryName(scratch[file])!);
        scratch.Write(file, text);
        string[] rest = option == "--machine" ? ["--material", "m", "--machine", "a"] : ["--material", "a", "--watts", "10"];
        CliRun run =
            Cli.Run(["plan", "--power", "20:80:4", "--speed", "1000:3000:3", .. rest, "--profiles", scratch["."], "--out", scratch["out"]]);
        Assert.Equal(2, run.Code);
        Assert.Contains(file, run.OnlyLine(), StringComparison.Ordinal);
        Assert.Contains(says, run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_machine_without_profile_and_watts_is_asked_for_its_optical_watts()
    {
        CliRun run =
            Cli.Run("plan", "--material", "m", "--machine", "nobody", "--power", "20:80:4", "--speed", "1000:3000:3", "--profiles", "none");
        Assert.Equal(2, run.Code);
        Assert.Contains("what leaves the lens and not what the supply draws", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_dangerous_material_is_not_planned_before_its_danger_is_repeated()
    {
        using Scratch scratch = new();
        string[] command =
            ["plan", "--material", "PVC banner", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3", "--out", scratch["out"]];
        Assert.Contains("PVC gives off hydrogen chloride", Cli.Run(command).OnlyLine(), StringComparison.Ordinal);
        Assert.Empty(scratch.Files);
        CliRun accepted = Cli.Run([.. command, "--accept-risk", "PVC gives off hydrogen chloride"]);
        Assert.Equal(0, accepted.Code);
        Assert.Contains("You accepted this risk: PVC gives off hydrogen chloride", accepted.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_plan_may_be_made_again_but_another_one_is_never_replaced()
    {
        using Scratch scratch = new();
        string[] command = [.. Usual, "--out", scratch["out"]];
        Assert.Equal(0, Cli.Run(command).Code);
        string plan = File.ReadAllText(scratch["out/plan.json"]);
        Assert.Equal(0, Cli.Run(command).Code);
        CliRun other = Cli.Run([.. command, "--number", "7"]);
        Assert.Equal(2, other.Code);
        Assert.Contains("holds another plan", other.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(plan, File.ReadAllText(scratch["out/plan.json"]));
    }

    [Theory]
    [InlineData("--watts", "2,5", "--watts cannot be \"2,5\"")] // a decimal comma is never read as something else
    [InlineData("--watts", "NaN", "--watts cannot be \"NaN\"")]
    [InlineData("--number", "250", "--number cannot be \"250\"")]
    [InlineData("--cell", "1e3", "--cell cannot be \"1e3\"")]
    [InlineData("--gap", "2", "--gap cannot be \"2\"")]
    [InlineData("--card", "120", "--card cannot be \"120\"")]
    [InlineData("--card", "-120x100", "--card cannot be \"-120x100\"")]
    [InlineData("--card", "30x30", "--card is 30 × 30 mm, and 4 × 3 cells need at least")]
    [InlineData("--power", "140", "--power cannot be 140. Give more than 0, at most 100 %.")]
    [InlineData("--power", "80:20:4", "--power runs from 80 to 20")]
    [InlineData("--area", "400", "--area cannot be \"400\"")]
    [InlineData("--area", "80x60", "the machine's work area is 80 × 60 mm")]
    [InlineData("--fastest-feed", "2000", "--speed goes up to 3000 mm/min, and the machine's fastest safe feed is 2000 mm/min")]
    [InlineData("--full-power-s", "0", "--full-power-s cannot be \"0\"")]
    [InlineData("--powered-z", "5", "--powered-z cannot be \"5\"")]
    [InlineData("--mark-power", "50", "--mark-power is given alone")]
    [InlineData("--tabs", "1", "--tabs cannot be 1. Leave it out")]
    [InlineData("--seed", "1.5", "--seed cannot be \"1.5\"")]
    [InlineData("--accept-risk", "yes", "--accept-risk is given, and \"birch plywood\" is not the name")]
    [InlineData("--speed", "0", "--speed cannot be 0")]
    [InlineData("--speed", "1.000,2.000", "--speed cannot be 1 mm/min. Give at least 10 mm/min")]
    [InlineData("--mark-speed", "1.200", "1.000 is one, not a thousand")]
    [InlineData("--speed", "100:5000:2000", "--speed asks for \"2000\" values")]
    [InlineData("--process", "melt", "melt")]
    public void Wrong_options_end_in_a_clear_line_and_exit_code_2_without_a_file(string option, string value, string says)
    {
        using Scratch scratch = new();
        int at = Array.IndexOf(Usual, option);
        string[] command = at < 0 ? [.. Usual, option, value] : [.. Usual[..(at + 1)], value, .. Usual[(at + 2)..]];
        CliRun run = Cli.Run([.. command, "--out", scratch["out"]]);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
        Assert.Empty(run.Output);
        Assert.Empty(scratch.Files);
    }

    [Fact]
    public void A_focus_range_may_begin_below_the_surface()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.Run("plan", "--material", "m", "--watts", "10", "--power", "50", "--speed", "1000:3000:3",
            "--focus-offset=-2:2:5", "--out", scratch["out"]).Code);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal([-2.0, -1, 0, 1, 2], plan.Rows.Values);
    }
}
