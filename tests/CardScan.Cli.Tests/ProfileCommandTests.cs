using System.Text.Json;
using CardScan.Model;

namespace CardScan.Cli.Tests;

public class ProfileCommandTests
{
    private static readonly string[] Ranges = ["--power", "20:80:4%", "--speed", "20,30,40mm/s"];

    [Fact]
    public void Defaults_are_planned_with_where_nothing_is_given_and_the_output_says_so()
    {
        using Scratch scratch = new();
        Keep(scratch);
        Assert.Equal("Default machine: Bench diode", Cli.RunIn(scratch["."], "profile", "default", "bench diode").Output.Trim());
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", "birch").Code);

        CliRun run = Cli.RunIn(scratch["."], ["plan", .. Ranges, "--out", "out"]);

        Assert.Equal(0, run.Code);
        Assert.StartsWith("Using your default machine \"Bench diode\" and default material \"birch\".", run.Errors,
            StringComparison.Ordinal);
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan;
        Assert.Equal(("Bench diode", "birch", 3.0), (plan.Machine.Name, plan.Material.Name, plan.Material.ThicknessMm));
        Assert.Equal([1200.0, 1800, 2400], plan.Rows.Values);
        Assert.True(File.Exists(scratch["out/card.gcode"]));

        CliRun given = Cli.RunIn(scratch["."],
            ["plan", .. Ranges, "--material", "oak", "--machine", "other", "--watts", "5", "--out", "own"]);
        Assert.DoesNotContain("Using your default", given.Errors, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("6", true)]
    [InlineData("100mm/s", false)]
    public void A_fastest_feed_that_no_laser_has_is_questioned(string feed, bool isQuestioned)
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "machine", "bench", "--watts", "10").Code);
        CliRun run = Cli.RunIn(scratch["."], "profile", "edit", "bench", "--fastest-feed", feed);
        Assert.Equal(0, run.Code);
        Assert.Equal(isQuestioned, run.Errors.Contains("[feed-slow]", StringComparison.Ordinal));
    }

    [Fact]
    public void Without_a_material_and_a_default_one_the_remedy_is_told()
    {
        CliRun run = Cli.Run(["plan", "--watts", "10", .. Ranges]);
        Assert.Equal(2, run.Code);
        Assert.Equal("cardscan: No material is given, and no default one is set. Give --material, or set a default with "
            + "cardscan profile default. [plan-no-material]", run.OnlyLine());
    }

    [Fact]
    public void A_default_is_shown_taken_back_and_forgotten_with_its_profile()
    {
        using Scratch scratch = new();
        Keep(scratch);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", "birch").Code);
        Assert.Contains("3 mm *", Cli.RunIn(scratch["."], "profile", "list").Output, StringComparison.Ordinal);
        Assert.Equal("{\"material\":\"birch\"}", Compact(Cli.RunIn(scratch["."], "profile", "default", "--json").Output));
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", "birch", "--off").Code);
        Assert.Equal("{}", Compact(Cli.RunIn(scratch["."], "profile", "default", "--json").Output));

        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", "birch").Code);
        CliRun removed = Cli.RunIn(scratch["."], "profile", "remove", "birch");
        Assert.EndsWith("birch.json; it was the default.", removed.Output.TrimEnd(), StringComparison.Ordinal);
        Assert.False(File.Exists(scratch["profiles/materials/birch.json"]));
        Assert.Equal("{}", Compact(Cli.RunIn(scratch["."], "profile", "default", "--json").Output));
    }

    [Theory]
    [InlineData("show")]
    [InlineData("remove")]
    [InlineData("default")]
    [InlineData("edit")]
    public void A_name_that_is_none_is_refused_with_the_one_that_may_be_meant(string command)
    {
        using Scratch scratch = new();
        Keep(scratch);
        CliRun run = Cli.RunIn(scratch["."], "profile", command, "bench doide");
        Assert.Equal(2, run.Code);
        Assert.Contains("Did you mean \"Bench diode\"?", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_from_elsewhere_is_shown_but_never_removed()
    {
        using Scratch scratch = new();
        Keep(scratch);
        string elsewhere = scratch["elsewhere.json"];
        File.Copy(scratch["profiles/materials/birch.json"], elsewhere);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "show", elsewhere, "--kind", "material").Code);
        Assert.Equal(2, Cli.RunIn(scratch["."], "profile", "remove", elsewhere, "--kind", "material").Code);
        Assert.True(File.Exists(elsewhere));
    }

    [Fact]
    public void A_name_of_both_kinds_asks_for_the_kind()
    {
        using Scratch scratch = new();
        Keep(scratch);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "material", "Bench diode").Code);
        Assert.Contains("Add --kind machine or --kind material.", Cli.RunIn(scratch["."], "profile", "show", "bench diode").OnlyLine(),
            StringComparison.Ordinal);
        Assert.StartsWith("Name: Bench diode", Cli.RunIn(scratch["."], "profile", "show", "bench diode", "--kind", "machine").Output,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Single_values_are_changed_and_the_others_stay()
    {
        using Scratch scratch = new();
        Keep(scratch);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "edit", "bench diode", "--fastest-feed", "50mm/s").Code);
        Machine machine = CardJson.ReadMachine(File.ReadAllBytes(scratch["profiles/machines/bench-diode.json"])).Value;
        Assert.Equal((10.0, 3000.0, 1000.0), (machine.RatedOpticalWatts, machine.FastestFeedMmPerMin, machine.FullPowerS));

        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "edit", "birch", "--notes", "from the rack").Code);
        Material material = CardJson.ReadMaterial(File.ReadAllBytes(scratch["profiles/materials/birch.json"])).Value;
        Assert.Equal((3.0, "from the rack"), (material.ThicknessMm, material.Notes));
    }

    [Theory]
    [InlineData("--thickness is given, and \"Bench diode\" is a machine.", "--thickness", "3")]
    [InlineData("--watts cannot be \"0\".", "--watts", "0")]
    [InlineData("--fastest-feed cannot be \"3mm\". mm is a unit of length.", "--fastest-feed", "3mm")]
    [InlineData("No value to change is given.")]
    public void A_wrong_change_is_refused_and_changes_nothing(string says, params string[] options)
    {
        using Scratch scratch = new();
        Keep(scratch);
        byte[] before = File.ReadAllBytes(scratch["profiles/machines/bench-diode.json"]);
        CliRun run = Cli.RunIn(scratch["."], ["profile", "edit", "bench diode", .. options]);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(scratch["profiles/machines/bench-diode.json"]));
        Assert.DoesNotContain(scratch.Files, file => file.EndsWith(".part", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("{}")]
    [InlineData("not json")]
    [InlineData("[]")]
    [InlineData("{\"format\":\"cardscan-preferences/1\",\"machin\":\"a\"}")]
    [InlineData("{\"format\":\"cardscan-preferences/1\",\"speedUnit\":\"furlong\"}")]
    [InlineData("{\"format\":\"cardscan-preferences/1\",\"machine\":3}")]
    public void Damaged_preferences_are_refused_by_name_and_never_replaced(string text)
    {
        using Scratch scratch = new();
        Keep(scratch);
        scratch.Write("profiles/preferences.json", text);
        string[][] commands = [["plan", .. Ranges, "--material", "m", "--watts", "5"], ["profile", "default", "birch"], ["units", "mm/s"]];
        foreach (string[] command in commands)
        {
            CliRun run = Cli.RunIn(scratch["."], command);
            Assert.Equal(2, run.Code);
            Assert.Contains("preferences.json is not a file of preferences", run.Errors, StringComparison.Ordinal);
        }

        Assert.Equal(text, File.ReadAllText(scratch["profiles/preferences.json"]));
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "list").Code); // what needs no preferences goes on
    }

    [Fact]
    public void A_default_whose_profile_is_gone_is_refused()
    {
        using Scratch scratch = new();
        Keep(scratch);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "default", "bench diode").Code);
        File.Delete(scratch["profiles/machines/bench-diode.json"]);
        CliRun run = Cli.RunIn(scratch["."], ["plan", .. Ranges, "--material", "birch"]);
        Assert.Equal(2, run.Code);
        Assert.Contains("There is no profile \"Bench diode\"", run.OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_name_like_that_of_a_profile_is_warned_of_and_taken_as_it_is()
    {
        using Scratch scratch = new();
        Keep(scratch);
        CliRun run = Cli.RunIn(scratch["."], ["plan", .. Ranges, "--material", "brich", "--watts", "10", "--out", "out"]);
        Assert.Equal(0, run.Code);
        Assert.Contains("Did you mean \"birch\"?", run.Errors, StringComparison.Ordinal);
        Assert.Equal("brich", CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Material.Name);
    }

    [Theory]
    [InlineData("1/8 inch birch plywood", 0, null)]
    [InlineData("./nothing", 2, "./nothing does not exist")]
    [InlineData("nothing.json", 2, "nothing.json does not exist")]
    public void A_slash_alone_makes_no_path(string material, int code, string? says)
    {
        using Scratch scratch = new();
        CliRun run = Cli.RunIn(scratch["."], ["plan", .. Ranges, "--material", material, "--watts", "10", "--out", "out"]);
        Assert.Equal(code, run.Code);
        if (says is not null) Assert.Contains(says, run.OnlyLine(), StringComparison.Ordinal);
        else Assert.Equal(material, CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Material.Name);
    }

    [Fact]
    public void A_file_in_a_folder_is_a_path()
    {
        using Scratch scratch = new();
        Keep(scratch);
        File.Move(scratch["profiles/materials/birch.json"], scratch["profiles/mine"]);
        Assert.Equal(0, Cli.RunIn(scratch["."], ["plan", .. Ranges, "--material", "profiles/mine", "--watts", "10", "--out", "out"]).Code);
        Assert.Equal("birch", CardJson.ReadPlan(File.ReadAllBytes(scratch["out/plan.json"])).Value.Plan.Material.Name);
    }

    private static void Keep(Scratch scratch)
    {
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "machine", "Bench diode", "--watts", "10", "--area", "400x400",
            "--fastest-feed", "6000mm/min", "--full-power-s", "1000").Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], "profile", "material", "birch", "--thickness", "3mm").Code);
    }

    private static string Compact(string json) => JsonSerializer.Serialize(JsonDocument.Parse(json));
}
