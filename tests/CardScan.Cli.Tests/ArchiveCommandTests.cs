using System.Diagnostics;
using System.Text.Json;
using System.Text.RegularExpressions;
using CardScan.Model;
using Process = System.Diagnostics.Process;

namespace CardScan.Cli.Tests;

public sealed partial class ArchiveCommandTests : IDisposable
{
    private static readonly string[] Usual =
        ["plan", "--material", "slate", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3"];

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void A_photo_finds_the_plan_of_its_card_and_is_kept()
    {
        Assert.Equal(0, Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Code);
        CliRun run = Run("read", Cli.Photo, "--out", _scratch["out"]);
        Assert.Equal(0, run.Code);
        Assert.Contains("Kept in the archive as r1, as before.", run.Output, StringComparison.Ordinal);
        Assert.Empty(run.Errors);
        Assert.Equal(CardJson.ReadPlan(File.ReadAllBytes(Cli.Plan)).Value.Sha256,
            CardJson.ReadReading(File.ReadAllBytes(_scratch["out/reading.json"])).Value.PlanSha256);
    }

    [Fact]
    public void What_is_kept_is_what_was_printed_and_its_picture_tells_its_story()
    {
        string printed = Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Output;
        Assert.Equal(printed, Run("archive", "show", "r1", "--json").Output);
        using JsonDocument card = JsonDocument.Parse(Run("archive", "show", "17", "--json").Output);
        JsonElement photo = card.RootElement[0].GetProperty("readings")[0].GetProperty("photos")[0];
        Assert.Equal(File.ReadAllBytes(Cli.Photo), File.ReadAllBytes(photo.GetProperty("path").GetString()!));
        string picture = System.Text.Encoding.UTF8.GetString(File.ReadAllBytes(photo.GetProperty("annotatedPath").GetString()!));
        Assert.Contains($"CardScan photo SHA-256\0\0\0\0\0{photo.GetProperty("sha256").GetString()}", picture, StringComparison.Ordinal);
    }

    [Fact]
    public void Phones_are_listed_and_forgotten()
    {
        Assert.Contains("No phone", Run("archive", "phones").Errors + Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Errors
            + Run("archive", "phones").Errors, StringComparison.Ordinal);
        foreach ((string name, double factor) in (ReadOnlySpan<(string, double)>)[("usual.jpg", 1), ("dark.jpg", 0.4)])
        {
            byte[] photo = Workflow.Tests.ExposedPhoto.Of(Cli.Photo, factor);
            File.WriteAllBytes(_scratch[name], Vision.Tests.PhotoFiles.WithExposure(photo, 0.01 * factor, taken: "2027:03:14 10:00:00"));
        }

        Assert.Equal(0, Run("read", _scratch["usual.jpg"], _scratch["dark.jpg"], "--json").Code);

        string[] fields = Run("archive", "phones").Output.Split('\n')[1].Split('\t');
        Assert.Equal(["p1", "Phone", "", "", "1", "2027-03-14"], fields[..6]);
        using JsonDocument list = JsonDocument.Parse(Run("archive", "phones", "--json").Output);
        Assert.Equal("r2", list.RootElement[0].GetProperty("series")[0].GetProperty("reading").GetString());
        Assert.Equal(0, Run("read", _scratch["usual.jpg"], "--out", _scratch["out"]).Code);
        Assert.Contains("Earlier photos of different brightness", File.ReadAllText(_scratch["out/report.html"]), StringComparison.Ordinal);
        Assert.Contains("p1 is forgotten: Phone", Run("archive", "phones", "--forget", "p1").Output, StringComparison.Ordinal);
        Assert.Equal(2, Run("archive", "phones", "--forget", "p1").Code);
    }

    [Fact]
    public void A_photo_of_an_unknown_card_is_told_with_what_to_do()
    {
        CliRun run = Run("read", Cli.Photo);
        Assert.Equal(2, run.Code);
        Assert.Contains("card 17", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Contains("--plan", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Contains("no archive is in use", Cli.Run("read", Cli.Photo).OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void Several_open_cards_of_a_number_are_told_and_one_can_be_chosen_or_closed()
    {
        Assert.Equal(0, Run([.. Usual, "--number", "17", "--out", _scratch["old"]]).Code);
        Assert.Equal(0, Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Code);
        CliRun run = Run("read", Cli.Photo, "--json");
        Assert.Equal(0, run.Code);
        Assert.Contains("2 open cards have the number 17", run.Errors, StringComparison.Ordinal);
        Assert.Contains("--plan c1", run.Errors, StringComparison.Ordinal);
        Assert.Equal(3, Run("read", Cli.Photo, "--plan", "c1").Code); // that card's markers stand elsewhere
        Assert.Equal(0, Run("archive", "close", "c1").Code);
        Assert.Empty(Run("read", Cli.Photo, "--json").Errors);
    }

    [Fact]
    public void Kept_readings_are_compared_scored_and_followed_by_name()
    {
        Keep();
        Assert.Equal(0, Run("read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--json").Code);

        string byName = Run("compare", "r1", "r2", "--json").Output;
        Assert.Contains("\"other\": \"B-0597\"", byName, StringComparison.Ordinal);
        foreach (string[] names in (string[][])[["17", "B-0597"], ["c1", "c2"]])
            Assert.Equal(byName, Run(["compare", .. names, "--json"]).Output);
        CliRun page = Run("compare", "c1", "c2", "--out", _scratch["both"]);
        Assert.Equal(0, page.Code);
        // the kept annotated pictures
        Assert.Equal(2, File.ReadAllText(_scratch["both/comparison.html"]).Split("data:image/jpeg").Length - 1);

        Assert.Equal(Run("archive", "show", "r1", "--json").Output, Run("score", "r1", "--json").Output);
        Assert.Equal(0, Run("next", "17", "--out", _scratch["next"]).Code);
        Plan next = CardJson.ReadPlan(File.ReadAllBytes(_scratch["next/plan.json"])).Value.Plan;
        Assert.Equal(0, next.Number); // the archive's next free one
        Assert.Contains("Follow-up of card 17", Run("archive", "show", "0").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void A_card_of_the_archive_stands_for_all_its_repeated_photos()
    {
        Keep();
        Assert.Equal(0, Run("read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--json").Code);
        byte[] photo = File.ReadAllBytes(Cli.Photo);
        // a comment makes it a file of its own
        string again = _scratch.Write("again.jpg", [.. photo[..2], 0xFF, 0xFE, 0, 4, (byte)'2', (byte)'.', .. photo[2..]]);
        Assert.Equal(0, Run("read", again, "--plan", Cli.Plan, "--json").Code);

        using JsonDocument comparison = JsonDocument.Parse(Run("compare", "r1", "c2", "--json", "--repeats", "17").Output);
        Assert.Equal(2, comparison.RootElement.GetProperty("repeatability").GetProperty("readings").GetInt32());
    }

    [Fact]
    public void What_is_neither_a_file_nor_in_the_archive_is_told_as_both()
    {
        string none = Run("compare", "card-1", "card-2").OnlyLine();
        Assert.Contains("card-1 is not a file or folder here: ", none, StringComparison.Ordinal);
        Keep();
        Assert.Contains("card-1 is not a file or folder here: ", Run("compare", "card-1", "card-2").OnlyLine(), StringComparison.Ordinal);
        Assert.Contains("given twice", Run("compare", "r1", "17").OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(0, Run([.. Usual, "--number", "5", "--out", _scratch["five"]]).Code);
        Assert.Contains("has no reading in the archive", Run("score", "5").OnlyLine(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_takes_the_next_free_number()
    {
        foreach (int number in (int[])[0, 1])
        {
            Assert.Equal(0, Run([.. Usual, "--out", _scratch[$"{number}"]]).Code);
            Assert.Equal(number, CardJson.ReadPlan(File.ReadAllBytes(_scratch[$"{number}/plan.json"])).Value.Plan.Number);
        }

        Assert.Contains("another open card with the number 1",
            Run([.. Usual, "--number", "1", "--title", "again", "--out", _scratch["again"]]).Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_plan_that_cannot_be_written_takes_no_number()
    {
        _scratch.Write("file", "");
        Assert.Equal(2, Run([.. Usual, "--out", _scratch["file"]]).Code);
        Assert.Equal(0, Run([.. Usual, "--out", _scratch["first"]]).Code);
        Assert.Equal(0, CardJson.ReadPlan(File.ReadAllBytes(_scratch["first/plan.json"])).Value.Plan.Number);
    }

    [Fact]
    public void An_archive_that_cannot_be_written_spoils_no_result_and_is_told()
    {
        _scratch.Write("file", "");
        CliRun run =
            Cli.RunWith(null, "read", Cli.Photo, "--plan", Cli.Plan, "--out", _scratch["out"], "--archive", _scratch["file/archive"]);
        Assert.Equal(1, run.Code);
        Assert.Contains("The archive at", run.OnlyLine(), StringComparison.Ordinal);
        Assert.True(File.Exists(_scratch["out/report.html"]));
        Assert.Contains("Fastest full mark", run.Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_kept_where_no_archive_is_wanted()
    {
        Assert.Equal(0, Run("read", Cli.Photo, "--plan", Cli.Plan, "--json", "--no-archive").Code);
        Assert.False(Directory.Exists(_scratch["archive"]));
        Assert.Equal(2, Run("read", Cli.Photo, "--no-archive", "--archive", _scratch["other"]).Code);
        Assert.Equal(2, Run("archive", "list").Code);
    }

    [Fact]
    public void Lists_are_lines_with_tabs_for_programs_and_json_where_asked()
    {
        Keep();
        string[] lines = Run("archive", "list").Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(2, lines.Length);
        Assert.StartsWith("card\tnumber\t", lines[0], StringComparison.Ordinal);
        Assert.StartsWith("c1\t17\t", lines[1], StringComparison.Ordinal);
        Assert.Contains("\t1500 mm/min at 80 %, line interval 0.1 mm\t", lines[1], StringComparison.Ordinal);
        Assert.Equal(lines, Run("archive", "find", "birch", "--thickness", "3", "--process", "engrave").Output
            .Split('\n', StringSplitOptions.RemoveEmptyEntries));
        Assert.Equal("No card matches.", Run("archive", "find", "granite").OnlyLine());
        using JsonDocument json = JsonDocument.Parse(Run("archive", "find", "--json", "--batch", "B-0412").Output);
        Assert.Equal("c1", json.RootElement[0].GetProperty("card").GetString());
        Assert.Equal("[]", Run("archive", "find", "granite", "--json").Output.Trim());
    }

    [Theory]
    [InlineData("--from", "01.02.2026", "yyyy-mm-dd")]
    [InlineData("--from", "2026-02-30", "yyyy-mm-dd")]
    [InlineData("--thickness", "3,5", "Use a decimal point: 3.5")]
    [InlineData("--number", "250", "0 to 249")]
    public void A_wrong_question_ends_in_one_clear_line(string option, string value, string says)
    {
        CliRun run = Run("archive", "find", option, value);
        Assert.Equal(2, run.Code);
        Assert.Contains(says, run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_setting_comes_with_its_date_evidence_interval_and_next_step()
    {
        Keep();
        string[] fields = Run("settings", "birch", "3mm").Output.Split('\n')[1].Split('\t');
        Assert.Equal(
            [
                "birch plywood 3 mm", "engrave", "fastest-full-mark",
                "1500 mm/min at 80 %, 1 pass, line interval 0.1 mm, air not noted, focus on the surface", "sure", "95 %",
                "94 % to 100 % of the strongest mark", "B-0412", "r1", "", "", "Confirm it with one more card: cardscan next r1", ""
            ],
            fields.Where((_, i) => i is not 1 and not 9));
        Assert.StartsWith("workshop diode, 10 W", fields[1], StringComparison.Ordinal);
        Assert.Contains("Stay beside the machine", Run("settings").Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Settings_are_written_as_a_table_that_replaces_nothing()
    {
        Keep();
        Assert.Equal(0, Run("settings", "--csv", _scratch["settings.csv"]).Code);
        string[] lines = File.ReadAllLines(_scratch["settings.csv"]);
        Assert.StartsWith("material,thickness (mm),machine,optical power at 100 % (W),", lines[0], StringComparison.Ordinal);
        Assert.Contains(",fastest-full-mark,sure,80,1500,25,1,0.1,0,", lines[1], StringComparison.Ordinal);
        Assert.Contains("[export-exists]", Run("settings", "--csv", _scratch["settings.csv"]).Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Names_that_are_likely_one_come_with_the_command_that_brings_them_together_and_takes_it_back()
    {
        Keep();
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(Cli.Plan)).Value.Plan;
        string file = _scratch.Write("ply.json", CardJson.Write(plan with { Material = plan.Material with { Name = "Birch Ply 3mm" } }));
        Assert.Equal(0, Run("read", Cli.Photo, "--plan", file, "--out", _scratch["ply"]).Code);
        CliRun apart = Run("settings", "birch");
        Assert.Contains("is also kept under", apart.Errors, StringComparison.Ordinal);
        string line = apart.Errors.Split("cardscan ")[1].Split('\n')[0];
        Assert.Equal(5, apart.Output.Split('\n').Length - 1);

        CliRun renamed = Run(Words(line));
        Assert.Equal(0, renamed.Code);
        CliRun together = Run("settings", "birch");
        Assert.DoesNotContain("is also kept under", together.Errors, StringComparison.Ordinal);
        Assert.Equal(3, together.Output.Split('\n').Length - 1);
        Assert.Contains("\tr1\t", together.Output, StringComparison.Ordinal); // confirmed by it
        Assert.Equal(0, Run(Words(renamed.Output.Split("cardscan ")[1].Trim())).Code);
        Assert.Equal(apart.Output, Run("settings", "birch").Output);
        Assert.Contains("[rename-what]", Run("archive", "rename", "material", "birch").Errors, StringComparison.Ordinal);

        static string[] Words(string line) => [.. Word().Matches(line).Select(word => word.Value.Trim('"'))];
    }

    [Fact]
    public void A_sheet_for_the_wall_is_renewed_and_takes_no_other_files_place()
    {
        Assert.Equal(0, Run(Usual).Code);
        Assert.Contains("[sheet-empty]", Run("settings", "--sheet", _scratch["wall.pdf"]).Errors, StringComparison.Ordinal);
        Keep();
        Assert.Equal(0, Run("settings", "--sheet", _scratch["wall.pdf"], "--paper", "letter").Code);
        Assert.StartsWith("%PDF-", File.ReadAllText(_scratch["wall.pdf"]), StringComparison.Ordinal);
        Assert.Equal(0, Run("settings", "--sheet", _scratch["wall.pdf"]).Code);
        File.WriteAllText(_scratch["wall.pdf"], "%PDF-1.4 of somebody else");
        Assert.Contains("[export-exists]", Run("settings", "--sheet", _scratch["wall.pdf"]).Errors, StringComparison.Ordinal);
        Assert.Equal("%PDF-1.4 of somebody else", File.ReadAllText(_scratch["wall.pdf"]));
    }

    [Fact]
    public void A_thickness_that_is_only_near_is_said_so()
    {
        Keep();
        Assert.Contains("Not exactly 2.9 mm, but near it: 3 mm.", Run("settings", "birch 2.9 mm").Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("Not exactly", Run("settings", "birch 3 mm").Errors, StringComparison.Ordinal);
        Assert.Contains("No reading recommends", Run("settings", "birch 4 mm").Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void Notes_and_tags_stand_with_the_card()
    {
        Keep();
        Assert.Equal(0, Run("archive", "note", "r1", "lens", "cleaned").Code);
        Assert.Equal(0, Run("archive", "tag", "B-0412", "damp").Code);
        Assert.Contains("note on r1", Run("archive", "show", "17").Output, StringComparison.Ordinal);
        Assert.Contains("tags: damp", Run("archive", "show", "B-0412").Output, StringComparison.Ordinal);
        Assert.Contains("c1\t", Run("archive", "find", "cleaned").Output, StringComparison.Ordinal);
        Assert.Equal(2, Run("archive", "tag", "c1", "two words").Code);
        Assert.Equal(2, Run("archive", "note", "c9", "x").Code);
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("json")]
    [InlineData("zip")]
    public void An_export_holds_the_readings_and_replaces_nothing(string ending)
    {
        Keep();
        string file = _scratch[$"out.{ending}"];
        Assert.Equal($"{file}: 1 card, 1 reading", Run("archive", "export", file).Output.Trim());
        if (ending == "csv") Assert.Equal(31, File.ReadAllLines(file).Length);
        if (ending == "json")
        {
            using JsonDocument json = JsonDocument.Parse(File.ReadAllBytes(file));
            Assert.False(CardJson.ReadReading(
                System.Text.Encoding.UTF8.GetBytes(json.RootElement[0].GetProperty("reading").GetRawText())).IsRefused);
        }

        Assert.Equal(2, Run("archive", "export", file).Code);
        Assert.Equal(2, Run("archive", "export", _scratch["out.txt"]).Code);
        Assert.DoesNotContain(_scratch.Files, name => name.EndsWith(".part", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("zip")]
    [InlineData("csv")]
    public void An_export_that_cannot_be_written_blames_its_own_place(string ending)
    {
        Keep();
        CliRun run = Run("archive", "export", _scratch[$"nowhere/x.{ending}"]);
        Assert.Equal(1, run.Code);
        Assert.Contains($"x.{ending} cannot be written", run.Errors, StringComparison.Ordinal);
        Assert.DoesNotContain("--archive", run.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_bundle_goes_from_one_archive_to_another()
    {
        Keep();
        Assert.Equal(0, Run("archive", "export", _scratch["all.zip"]).Code);
        Assert.Equal("New: 1 card, 1 reading", Cli.RunWith(_scratch["other"], "archive", "import", _scratch["all.zip"]).Output.Trim());
        Assert.Equal(0, Cli.RunWith(_scratch["other"], "archive", "verify").Code);
        Assert.Equal(0, Cli.RunWith(_scratch["other"], "read", Cli.Photo, "--json").Code);
    }

    [Fact]
    public void Verify_ends_in_exit_code_1_where_something_is_wrong()
    {
        Keep();
        Assert.Equal("Sound: 1 reading, 3 files.", Run("archive", "verify").Output.Trim());
        File.Delete(Directory.GetFiles(_scratch["archive"], "*.jpg", SearchOption.AllDirectories).Single());
        CliRun run = Run("archive", "verify");
        Assert.Equal(1, run.Code);
        Assert.Contains(".jpg is missing", run.Output, StringComparison.Ordinal);
        Assert.Equal(0, Run("archive", "repair").Code);
    }

    [Fact]
    public void Prune_removes_only_what_is_named_itself_and_only_when_it_is_really_meant()
    {
        Keep();
        Assert.Equal(2, Run("archive", "prune").Code);
        Assert.Contains("it is c1 now", Run("archive", "prune", "17").OnlyLine(), StringComparison.Ordinal);
        Assert.Contains("Nothing was removed", Run("archive", "prune", "c1").Output, StringComparison.Ordinal);
        Assert.Contains("c1", Run("archive", "list").Output, StringComparison.Ordinal);
        Assert.Equal(0, Run("archive", "prune", "c1", "--really-delete").Code);
        Assert.Empty(Run("archive", "list").Output);
        Assert.Empty(Directory.GetFiles(Path.Combine(_scratch["archive"], "files"), "*", SearchOption.AllDirectories));
    }

    [Fact]
    public void The_demo_keeps_its_cards_apart()
    {
        Assert.Equal(0, Run("demo", "--out", _scratch["demo"]).Code);
        Assert.False(Directory.Exists(_scratch["archive"]));
        Assert.Contains("c2\t", Cli.RunWith(_scratch["demo/archive"], "archive", "list").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_archive_stands_where_the_system_keeps_data_unless_the_environment_names_a_place()
    {
        if (OperatingSystem.IsWindows()) return; // XDG is not Windows'
        Assert.Contains($"at {_scratch["data"]}/cardscan", Message(new() { ["XDG_DATA_HOME"] = _scratch["data"] }),
            StringComparison.Ordinal);
        Assert.Contains($"at {_scratch["home"]}/.local/share/cardscan", Message(new() { ["HOME"] = _scratch["home"] }),
            StringComparison.Ordinal);
        Assert.Contains($"at {_scratch["named"]}",
            Message(new() { ["XDG_DATA_HOME"] = _scratch["data"], ["CARDSCAN_ARCHIVE"] = _scratch["named"] }), StringComparison.Ordinal);
    }

    // A process of its own: the system itself says where data is kept.
    private static string Message(Dictionary<string, string> environment)
    {
        ProcessStartInfo start = new("dotnet", [Path.Combine(AppContext.BaseDirectory, "cardscan.dll"), "archive", "list"])
        {
            RedirectStandardError = true,
            RedirectStandardOutput = true,
            UseShellExecute = false
        };
        foreach (string name in (string[])["XDG_DATA_HOME", "CARDSCAN_ARCHIVE"]) start.Environment.Remove(name);
        foreach ((string name, string value) in environment) start.Environment[name] = value;
        using Process process = Process.Start(start)!;
        string message = process.StandardError.ReadToEnd();
        process.WaitForExit();
        Assert.Equal(2, process.ExitCode);
        Assert.DoesNotContain('\u001b', message);
        return message;
    }

    private void Keep() => Assert.Equal(0, Run("read", Cli.Photo, "--plan", Cli.Plan, "--json").Code);

    private CliRun Run(params string[] args) => Cli.RunWith(_scratch["archive"], args);

    [GeneratedRegex("\"[^\"]*\"|[^ ]+")]
    private static partial Regex Word();
}
