using System.Text.Json;

namespace CardScan.Cli.Tests;

public class HistoryCommandTests
{
    [Fact]
    public void The_cards_of_a_machine_are_listed_charted_and_started_anew()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan, "--out", "out").Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", "second").Code);

        CliRun list = Cli.RunIn(scratch["."], "history", "workshop diode, 10 W optical", "--page", "history.html");

        Assert.Equal(0, list.Code);
        Assert.Contains("\tengrave\t", list.Output, StringComparison.Ordinal);
        Assert.Contains("× [", list.Output, StringComparison.Ordinal);
        string page = File.ReadAllText(scratch["history.html"]);
        Assert.Contains("2 cards. 6 more cards of materials that were burned before", page, StringComparison.Ordinal);
        Assert.Contains("<svg", page, StringComparison.Ordinal);

        CliRun noted = Cli.RunIn(
            scratch["."], "history", "workshop diode, 10 W optical", "--changed", "cleaned the lens", "--on", "2020-01-01");
        Assert.Contains("Noted as m1: cleaned the lens, 2020-01-01.", noted.Output, StringComparison.Ordinal);
        using JsonDocument json = JsonDocument.Parse(Cli.RunIn(scratch["."], "history", "--json").Output);
        JsonElement machine = json.RootElement[0];
        Assert.Equal(6, machine.GetProperty("cardsMissing").GetInt32());
        Assert.Equal("cleaned the lens", machine.GetProperty("changes")[0].GetProperty("what").GetString());
        Assert.Equal(2, machine.GetProperty("cards").GetArrayLength());
        Assert.Contains("m1 is gone", Cli.RunIn(scratch["."], "history", "--undo", "m1").Output, StringComparison.Ordinal);
    }

    [Fact]
    public void The_page_of_before_is_renewed_and_no_other_file()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.Photo, "--plan", Cli.Plan, "--out", "out").Code);
        Assert.Equal(0, Cli.RunIn(scratch["."], "history", "--page", "history.html").Code);
        string before = File.ReadAllText(scratch["history.html"]);
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", "second").Code);

        Assert.Equal(0, Cli.RunIn(scratch["."], "history", "--page", "history.html").Code);
        CliRun report = Cli.RunIn(scratch["."], "history", "--page", "out/report.html");
        File.WriteAllText(scratch["notes.html"], $"<p>kept</p>{before}");
        CliRun notes = Cli.RunIn(scratch["."], "history", "--page", "notes.html");

        Assert.NotEqual(before, File.ReadAllText(scratch["history.html"]));
        Assert.Equal((2, 2), (report.Code, notes.Code));
        Assert.Contains("[export-exists]", report.Errors, StringComparison.Ordinal);
        Assert.StartsWith("<p>kept</p>", File.ReadAllText(scratch["notes.html"]), StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_machine_and_a_day_to_come_are_refused_with_what_to_do()
    {
        using Scratch scratch = new();
        Assert.Equal(0, Cli.RunIn(scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan, "--out", "second").Code);

        CliRun unknown = Cli.RunIn(scratch["."], "history", "attic");
        Assert.Equal(2, unknown.Code);
        Assert.Contains("workshop diode, 10 W", unknown.Errors, StringComparison.Ordinal);
        CliRun future = Cli.RunIn(scratch["."], "history", "--changed", "new module", "--on", "2999-01-01");
        Assert.Equal(2, future.Code);
        Assert.Contains("2999-01-01 is still to come", future.Errors, StringComparison.Ordinal);
    }
}
