using CardScan.Model;

namespace CardScan.Cli.Tests;

public class UnitsCommandTests
{
    [Fact]
    public void The_choice_is_kept_and_holds_for_what_people_read_but_not_for_files()
    {
        using Scratch scratch = new(), usual = new();
        Assert.Equal("Speeds are shown in mm/min.", Cli.RunIn(scratch["."], "units").Output.Trim());
        Assert.Equal("Speeds are shown in mm/s.", Cli.RunIn(scratch["."], "units", "mm/s").Output.Trim());
        string[] read = ["read", Cli.Photo, "--plan", Cli.Plan, "--out", "out"];

        CliRun run = Cli.RunIn(scratch["."], read), before = Cli.RunIn(usual["."], read);

        Assert.Equal((0, 0), (run.Code, before.Code));
        Assert.Contains("1500 mm/min at 80 %", before.Output, StringComparison.Ordinal);
        Assert.Contains("25 mm/s at 80 %", run.Output, StringComparison.Ordinal);
        Assert.DoesNotContain("mm/min", run.Output, StringComparison.Ordinal);
        Assert.Contains("speed mm/s ↓", run.Output, StringComparison.Ordinal);
        string page = File.ReadAllText(scratch["out/report.html"]);
        Assert.Contains("Speed, mm/s", page, StringComparison.Ordinal);
        Assert.DoesNotContain("Speed, mm/min", page, StringComparison.Ordinal);
        foreach (string file in (string[])["out/reading.json", "out/cells.csv"])
            Assert.Equal(File.ReadAllText(usual[file]), File.ReadAllText(scratch[file]));
        Assert.Contains("25 mm/s", Cli.RunIn(scratch["."], "settings").Output, StringComparison.Ordinal);
        Assert.Equal(Reasons(usual), Reasons(scratch));

        static string[] Reasons(Scratch kept) => [.. Cli.RunIn(kept["."], "settings", "--json").Output.Split('\n')
            .Where(line => line.Contains("\"reason\"", StringComparison.Ordinal))];
    }

    [Fact]
    public void A_card_is_drawn_and_planned_the_same_whatever_is_chosen()
    {
        using Scratch scratch = new(), usual = new();
        string[] plan = ["plan", "--material", "birch", "--watts", "10", "--power", "20:80:4", "--speed", "20,30mm/s", "--area", "400x400",
            "--fastest-feed", "6000mm/min", "--full-power-s", "1000", "--number", "3", "--out", "out"];
        HostEnvironment perSecond = Cli.In(scratch["."]) with { SpeedUnitWord = "mm/s" };
        CliRun run = Cli.Run(perSecond, plan);
        Assert.Equal((0, 0), (run.Code, Cli.RunIn(usual["."], plan).Code));
        Assert.Contains(" mm/s at ", run.Output, StringComparison.Ordinal);
        foreach (string file in (string[])["plan.json", "card.svg", "card.gcode", "preview.png"])
            Assert.Equal(File.ReadAllBytes(usual[$"out/{file}"]), File.ReadAllBytes(scratch[$"out/{file}"]));
    }

    [Fact]
    public void The_variable_holds_over_what_is_kept_and_a_wrong_one_is_refused()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "units", "mm/min").Code);
        CliRun told = Cli.Run(Cli.In(scratch["."]) with { SpeedUnitWord = "mm/s" }, ["units"]);
        Assert.Equal("Speeds are shown in mm/s (set by CARDSCAN_SPEED_UNIT).", told.Output.Trim());
        CliRun wrong = Cli.Run(Cli.In(scratch["."]) with { SpeedUnitWord = "mm/h" }, ["units"]);
        Assert.Equal(2, wrong.Code);
        Assert.Contains("CARDSCAN_SPEED_UNIT is \"mm/h\"", wrong.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(2, Cli.RunIn(scratch["."], "units", "mm/h").Code);
    }

    [Fact]
    public void A_bare_speed_is_refused_where_it_could_mean_either()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "units", "mm/s").Code);
        string[] plan = ["plan", "--material", "birch", "--watts", "10", "--power", "20:80:4", "--out", "out", "--speed"];
        CliRun bare = Cli.RunIn(scratch["."], [.. plan, "1000:3000:3"]);
        Assert.Equal(2, bare.Code);
        Assert.Contains("Give 1000mm/s or 1000mm/min.", bare.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(0, Cli.RunIn(scratch["."], [.. plan, "1000:3000:3mm/min"]).Code);
        Assert.Equal([1000.0, 2000, 3000], CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Rows.Values);
    }
}
