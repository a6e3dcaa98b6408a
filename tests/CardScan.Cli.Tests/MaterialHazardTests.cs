using System.Text.Json;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Cli.Tests;

/// <summary>A setting for a material that must not be burned is never offered without a word: plans come from elsewhere too.</summary>
public sealed class MaterialHazardTests : IDisposable
{
    private const string Danger = "PVC gives off hydrogen chloride";

    private readonly Scratch _scratch = new();

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void The_danger_stands_before_the_settings_wherever_they_are_told()
    {
        CliRun read = Read("PVC sheet", "--out", _scratch["report"]);
        Assert.True(PlaceOf(read.Output, Danger) < PlaceOf(read.Output, "Fastest full mark"), read.Output);
        Assert.Contains("can be used with care", read.Output, StringComparison.Ordinal);
        string page = File.ReadAllText(_scratch["report/report.html"]);
        Assert.True(PlaceOf(page, Danger) < PlaceOf(page, "class=\"settings\""));

        foreach (string[] command in (string[][])[["score", "r1"], ["archive", "show", "r1"], ["archive", "show", "c1"]])
        {
            string told = Run(command).Output;
            Assert.True(PlaceOf(told, Danger) < PlaceOf(told, "1500 mm/min at 80 %"), told);
        }

        foreach (string[] list in (string[][])[["settings"], ["archive", "list"], ["archive", "find", "PVC"]])
            Assert.Contains(Danger, Run(list).Errors, StringComparison.Ordinal);
        Assert.EndsWith("\tmaterial-danger", Run("settings").Output.Split('\n')[1], StringComparison.Ordinal);
    }

    [Fact]
    public void Programs_find_it_among_advice_and_warnings()
    {
        Reading reading = ReadingOf(Read("PVC sheet", "--json"));
        Assert.Equal(Codes.MaterialDanger, reading.Advice[0].Code);
        Assert.Equal(Codes.MaterialDanger, ReadingOf(Run("score", "r1", "--json")).Advice[0].Code);
        foreach (string[] list in (string[][])[["settings"], ["archive", "list"], ["archive", "show", "c1"]])
        {
            using JsonDocument found = JsonDocument.Parse(Run([.. list, "--json"]).Output);
            JsonElement warning = found.RootElement[0].GetProperty("warnings")[0];
            Assert.Equal(Codes.MaterialDanger, warning.GetProperty("code").GetString());
            Assert.Contains(Danger, warning.GetProperty("message").GetString(), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_reading_that_was_kept_without_the_word_gets_it_when_it_is_told()
    {
        Read("PVC sheet", "--out", _scratch["report"]);
        string path = _scratch["report/reading.json"];
        Reading kept = CardJson.ReadReading(File.ReadAllBytes(path)).Value;
        string bare = CardJson.Write(kept with { Advice = [.. kept.Advice.Where(advice => !advice.IsAgainstBurning)] });
        Assert.DoesNotContain(Danger, bare, StringComparison.Ordinal);
        string old = _scratch.Write("old.json", bare);
        Assert.Contains(Danger, Run("score", old).Output, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_batches_are_compared_with_the_word_beside_the_setting()
    {
        Read("PVC sheet");
        Assert.Equal(0, Run("read", Cli.SecondPhoto, "--plan", Plan(Cli.SecondPlan, "MDF"), "--json").Code);
        string told = Run("compare", "r1", "r2", "--out", _scratch["both"]).Output;
        Assert.Contains(Danger, told, StringComparison.Ordinal);
        Assert.Contains("formaldehyde", told, StringComparison.Ordinal);
        Assert.Contains(Danger, File.ReadAllText(_scratch["both/comparison.html"]), StringComparison.Ordinal);
        Assert.Contains(Codes.MaterialDanger, Run("compare", "r1", "r2", "--json").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_next_card_asks_for_the_danger_again()
    {
        Read("PVC sheet");
        Assert.Contains("--accept-risk", Run("next", "r1", "--out", _scratch["next"]).OnlyLine(), StringComparison.Ordinal);
        Assert.False(Directory.Exists(_scratch["next"]));
        CliRun accepted = Run("next", "r1", "--out", _scratch["next"], "--accept-risk", Danger);
        Assert.Equal(0, accepted.Code);
        Assert.Contains($"You accepted this risk: {Danger}", accepted.Errors, StringComparison.Ordinal);
    }

    [Fact]
    public void A_caution_stands_before_the_settings_and_an_ordinary_material_has_none()
    {
        CliRun birch = Cli.RunIn(_scratch["other"], "read", Cli.Photo, "--plan", Cli.Plan);
        Assert.DoesNotContain("before you burn", birch.Output, StringComparison.Ordinal);
        Assert.EndsWith("\t", Cli.RunIn(_scratch["other"], "settings").Output.Split('\n')[1], StringComparison.Ordinal);
        string mdf = Read("MDF").Output;
        Assert.True(PlaceOf(mdf, "formaldehyde") < PlaceOf(mdf, "Fastest full mark"), mdf);
        Assert.Contains("can be used as it is", mdf, StringComparison.Ordinal);
    }

    private static int PlaceOf(string text, string words)
    {
        int at = text.IndexOf(words, StringComparison.Ordinal);
        Assert.True(at >= 0, $"{words}: {text}");
        return at;
    }

    private static Reading ReadingOf(CliRun run) => CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(run.Output)).Value;

    private CliRun Read(string material, params string[] more)
    {
        CliRun read = Run(["read", Cli.Photo, "--plan", Plan(Cli.Plan, material), .. more]);
        Assert.Equal(0, read.Code);
        return read;
    }

    /// <summary>A plan as another program or an editor may leave it.</summary>
    private string Plan(string path, string material)
    {
        Plan plan = CardJson.ReadPlan(File.ReadAllBytes(path)).Value.Plan;
        string json = CardJson.Write(plan with { Material = plan.Material with { Name = material } });
        return _scratch.Write($"{material}.json", json);
    }

    private CliRun Run(params string[] args) => Cli.RunIn(_scratch["home"], args);
}
