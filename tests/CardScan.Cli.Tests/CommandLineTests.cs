namespace CardScan.Cli.Tests;

public class CommandLineTests
{
    [Theory]
    [InlineData("read")]
    [InlineData("plan", "--frobnicate")]
    [InlineData("frobnicate")]
    [InlineData]
    public void A_wrong_command_line_points_to_the_help_without_printing_it(params string[] args)
    {
        CliRun run = Cli.Run(args);
        Assert.Equal(2, run.Code);
        Assert.Empty(run.Output);
        Assert.Contains("--help", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Usage:", run.Errors, StringComparison.Ordinal);
        Assert.All(run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries),
            line => Assert.StartsWith("cardscan: ", line, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("demo")]
    [InlineData("plan")]
    [InlineData("read")]
    [InlineData("score")]
    [InlineData("compare")]
    [InlineData("archive")]
    [InlineData("archive list")]
    [InlineData("archive find")]
    [InlineData("archive show")]
    [InlineData("settings")]
    [InlineData("archive note")]
    [InlineData("archive tag")]
    [InlineData("archive close")]
    [InlineData("archive export")]
    [InlineData("archive import")]
    [InlineData("archive verify")]
    [InlineData("archive repair")]
    [InlineData("archive prune")]
    [InlineData("archive rename")]
    public void Help_of_each_command_ends_with_an_example(string command)
    {
        CliRun run = Cli.Run([.. command.Split(' '), "--help"]);
        Assert.Equal(0, run.Code);
        Assert.Matches($"(?m)^ +cardscan {command}( |$)", run.Output.ReplaceLineEndings("\n"));
        Assert.Empty(run.Errors);
    }

    [Theory]
    [InlineData("There is no option --plann. Did you mean --plan?", "read", "photo.jpg", "--plann", "plan.json")]
    [InlineData("There is no option --plann. Did you mean --plan?", "read", "photo.jpg", "--plann=plan.json")]
    [InlineData("There is no option --jsn. Did you mean --json?", "read", "photo.jpg", "--plan", "plan.json", "--jsn")]
    [InlineData("There is no option -x.", "read", "-x", "--plan", "plan.json")]
    [InlineData("There is no option --jsn. Did you mean --json?", "score", "reading.json", "--jsn")]
    [InlineData("There is no option --powr. Did you mean --power?", "plan", "--powr", "20:80:4")]
    [InlineData("There is no command \"reed\". Did you mean read?", "reed", "x")]
    [InlineData("No command is given.")]
    [InlineData("There is no command \"archive lst\". Did you mean archive list?", "archive", "lst")]
    [InlineData("No command is given after \"archive\".", "archive")]
    public void A_misspelt_word_is_told_alone(string says, params string[] args)
    {
        CliRun run = Cli.Run(args);
        Assert.Equal(2, run.Code);
        string[] lines = run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal($"cardscan: {says}", lines[0]);
        Assert.StartsWith("cardscan: See cardscan ", lines[1], StringComparison.Ordinal);
        Assert.Equal(2, lines.Length);
    }

    [Theory]
    [InlineData("--light cannot be \"x\". Give back or front.", "read", "photo.jpg", "--light", "x")]
    [InlineData("--out has no value. Give one after it.", "read", "photo.jpg", "--out")]
    [InlineData("--archive has no value. Give one after it.", "read", "photo.jpg", "--archive")]
    [InlineData("--goal cannot be \"cheapest\". Give clean-cut, darkest, fastest-full-mark or sure-cut.", "next", "reading.json",
        "--goal", "cheapest")]
    [InlineData("--beam-mode cannot be \"M4\". Give constant, follows-speed or from-rest.", "profile", "machine", "m", "--watts", "5",
        "--beam-mode", "M4")]
    [InlineData("No <text> is given after \"note\".", "archive", "note", "c5", "--archive", "nowhere")]
    [InlineData("No <photo> is given after \"read\".", "read")]
    [InlineData("--frame cannot be \"a5\". Give a4 or letter.", "plan", "--material", "m", "--watts", "10", "--power", "20:80:4", "--speed",
        "1000:3000:3", "--frame", "a5")]
    [InlineData("--thickness is given twice. Give it once.", "plan", "--material", "m", "--thickness", "3", "--thickness", "300")]
    [InlineData("<unit> cannot be \"furlongs\". Give mm/min or mm/s.", "units", "furlongs")]
    [InlineData("There is no command \"plam\". Did you mean plan?", "plam", "--material", "x")]
    [InlineData("--cut and --process engrave cannot be used together. Leave one out.", "plan", "--cut", "--process", "engrave",
        "--material", "birch", "--thickness", "3", "--watts", "10")]
    [InlineData("--process cannot be \"foo\". Give cut or engrave.", "plan", "--material", "m", "--watts", "10", "--power", "20:80:4",
        "--speed", "1000:3000:3", "--process", "foo")]
    public void A_word_that_is_none_of_a_few_or_missing_is_told_in_one_line_with_its_option(string says, params string[] args)
    {
        CliRun run = Cli.Run(args);
        Assert.Equal(2, run.Code);
        string[] lines = run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal($"cardscan: {says}", lines[0]);
        Assert.Equal(2, lines.Length);
    }

    [Fact]
    public void Help_before_a_command_is_the_help_of_that_command()
    {
        CliRun run = Cli.Run("help", "settings");
        Assert.Equal((0, Cli.Run("settings", "--help").Output), (run.Code, run.Output));
        Assert.Equal(Cli.Run("--help").Output, Cli.Run("help").Output);
    }

    [Fact]
    public void A_card_larger_than_the_machine_is_to_be_given_smaller()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("plan", "--power", "20:80:4", "--speed", "600:3000:4", "--material", "birch", "--machine", "bench",
            "--watts", "10", "--area", "300x200", "--card", "500x500", "--out", scratch["out"]);
        Assert.Equal(2, run.Code);
        Assert.Contains("Give a --card of at most 300 × 200 mm, or leave it out.", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_whose_name_begins_with_a_dash_is_given_behind_two_dashes() =>
        Assert.Contains("-x.jpg does not exist", Cli.Run("read", "--plan", Cli.Plan, "--", "-x.jpg").OnlyLine(), StringComparison.Ordinal);

    [Theory]
    [InlineData("--full-mark", "0.9", "Give a percentage from 50 to below 100, for instance 90")]
    [InlineData("--full-mark", "49.9", "for instance 90")]
    [InlineData("--full-mark", "100", "for instance 90")]
    [InlineData("--confidence", "0.95", "for instance 90")]
    [InlineData("--confidence", "100", "for instance 90")]
    [InlineData("--full-mark", "92,5", "Use a decimal point: 92.5")]
    [InlineData("--halo-limit", "4,5", "Use a decimal point: 4.5")]
    public void A_number_that_cannot_be_meant_is_refused_with_one_that_can(string option, string value, string says)
    {
        CliRun run = Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, option, value);
        Assert.Equal(2, run.Code);
        Assert.StartsWith($"cardscan: {option} cannot be \"{value}\". ", run.Errors, StringComparison.Ordinal);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_number_with_several_commas_gets_no_hint_at_a_decimal_point() =>
        Assert.DoesNotContain("decimal point", Cli.Run("score", "r", "--halo-limit", "1,2,3").Errors, StringComparison.Ordinal);

    [Fact]
    public void A_reading_for_a_plan_and_a_plan_for_a_reading_are_told_as_such()
    {
        using Scratch scratch = new();
        string reading = scratch.Write("reading.json", Cli.Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Output);
        CliRun read = Cli.Run("read", Cli.Photo, "--plan", reading), score = Cli.Run("score", Cli.Plan);
        Assert.Equal((2, 2), (read.Code, score.Code));
        Assert.EndsWith("This is a reading, not a plan. Give the card's plan.json. [plan-other-kind]", read.OnlyLine(),
            StringComparison.Ordinal);
        Assert.EndsWith("This is a plan, not a reading. Give the card's reading.json; cardscan read makes it from a photo of "
            + "the burned card. [reading-other-kind]", score.OnlyLine(), StringComparison.Ordinal);
    }

    public static TheoryData<string[]> EmptyNames =>
    [
        ["read", "", "--plan", Cli.Plan],
        ["read", Cli.Photo, "--plan", ""],
        ["read", Cli.Photo, "--plan", Cli.Plan, "--out", ""],
        ["read", Cli.Photo, "--plan", Cli.Plan, "--out", "  "],
        ["score", ""],
        ["demo", "--out", ""],
        ["plan", "--material", "m", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3", "--out", ""],
    ];

    [Theory]
    [MemberData(nameof(EmptyNames))]
    public void An_empty_name_ends_in_one_plain_line_and_exit_code_2(string[] args)
    {
        CliRun run = Cli.Run(args);
        Assert.Equal(2, run.Code);
        Assert.Contains("is empty", run.OnlyLine(), StringComparison.Ordinal);
        Assert.DoesNotContain("fault in CardScan", run.Errors, StringComparison.Ordinal);
        Assert.Empty(run.Output);
    }

    [Fact]
    public void Words_can_be_completed_by_a_shell() =>
        Assert.StartsWith("plan", Cli.Run("[suggest:2]", "pl").Output, StringComparison.Ordinal);

    [Fact]
    public void The_demo_reads_every_shipped_card_compares_two_and_tells_where_the_pages_are()
    {
        using Scratch scratch = new();
        CliRun run = Cli.Run("demo", "--out", scratch["demo"]);
        Assert.Equal(0, run.Code);
        foreach (string card in Directory.GetDirectories(Path.Combine(AppContext.BaseDirectory, "demo")))
        {
            foreach (string file in (string[])["report.html", "annotated.png", "reading.json", "cells.csv"])
                Assert.True(File.Exists(Path.Combine(scratch["demo"], Path.GetFileName(card), file)), file);
        }

        foreach (string page in Directory.GetFiles(scratch["demo"], "*.html", SearchOption.AllDirectories)
            .Where(page => !page.StartsWith(scratch["demo/archive"], StringComparison.Ordinal)))
            Assert.Contains($"Open {page} in a browser.", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain(scratch.Files, name => name.EndsWith(".part", StringComparison.Ordinal));
    }
}
