using System.Text.Json;

namespace CardScan.Cli.Tests;

/// <summary>Output for programs: one JSON value on standard output and nothing else.</summary>
public class JsonOutputTests
{
    [Fact]
    public void Every_command_of_the_archive_and_the_plans_prints_json_and_nothing_else()
    {
        using Scratch scratch = new();
        string[] plan = ["plan", "--material", "birch", "--watts", "10", "--power", "20:80:4", "--speed", "1000:3000:3"];
        JsonElement planned = Json(scratch, [.. plan, "--number", "3", "--json"]);
        Assert.Equal((3, "c1"), (planned.GetProperty("number").GetInt32(), planned.GetProperty("card").GetString()));
        Assert.Equal([1000.0, 2000, 3000],
            planned.GetProperty("rows").GetProperty("values").EnumerateArray().Select(value => value.GetDouble()));
        Assert.All(planned.GetProperty("files").EnumerateArray(), file => Assert.True(File.Exists(file.GetString())));
        Assert.Equal("machine-incomplete", planned.GetProperty("warnings")[0].GetProperty("code").GetString());

        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan).Code);
        JsonElement next = Json(scratch, "next", "r1", "--json");
        Assert.Equal(17, next.GetProperty("after").GetInt32());
        Assert.NotEmpty(next.GetProperty("notes").EnumerateArray());

        foreach (string[] command in (string[][])
        [
            ["archive", "list"], ["archive", "find", "birch"], ["settings"], ["archive", "show", "c1"], ["archive", "show", "r1"],
            ["archive", "note", "c1", "a note"], ["archive", "tag", "c1", "kept"], ["archive", "close", "c1"],
            ["archive", "export", "all.zip"], ["archive", "import", "all.zip"], ["archive", "verify"], ["archive", "repair"],
            ["archive", "prune", "r1"], ["profile", "list"], ["units"],
        ]) Json(scratch, [.. command, "--json"]);
        Assert.True(Json(scratch, "archive", "verify", "--json").GetProperty("isSound").GetBoolean());
        JsonElement pruned = Json(scratch, "archive", "prune", "r1", "--json");
        Assert.Equal((false, "r1"), (pruned.GetProperty("isRemoved").GetBoolean(), pruned.GetProperty("readings")[0].GetString()));
    }

    [Fact]
    public void A_refusal_leaves_standard_output_empty()
    {
        using Scratch scratch = new();
        CliRun run = Cli.RunIn(scratch["."], "archive", "verify", "--json");
        Assert.Equal((2, ""), (run.Code, run.Output));
        Assert.EndsWith("[archive-missing]", run.OnlyLine(), StringComparison.Ordinal);
    }

    private static JsonElement Json(Scratch scratch, params string[] args)
    {
        CliRun run = Cli.RunIn(scratch["."], args);
        Assert.True(run.Code == 0, $"{string.Join(' ', args)}: {run.Errors}");
        return JsonDocument.Parse(run.Output).RootElement;
    }
}
