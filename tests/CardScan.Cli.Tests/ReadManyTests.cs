using System.Text.Json;
using CardScan.Model;

namespace CardScan.Cli.Tests;

/// <summary>Photos of several cards in one command.</summary>
public sealed class ReadManyTests : IDisposable
{
    private readonly Scratch _scratch = new();

    public ReadManyTests()
    {
        Directory.CreateDirectory(_scratch["photos"]);
        File.Copy(Cli.Photo, _scratch["photos/b-first.jpg"]);
        File.Copy(Cli.SecondPhoto, _scratch["photos/c-second.jpg"]);
    }

    public void Dispose() => _scratch.Dispose();

    [Fact]
    public void Photos_are_sorted_by_their_cards_and_a_bad_one_stops_no_other()
    {
        _scratch.Write("photos/a-text.jpg", "no picture");
        _scratch.Write("photos/d-half.jpg", File.ReadAllBytes(Cli.Photo)[..3000]);
        _scratch.Write("photos/notes.txt", "not a photo's name");

        CliRun run = Cli.Run("read", _scratch["photos"], "--plan", Cli.SecondPlan, "--plan", Cli.Plan, "--out", _scratch["out"]);

        Assert.Equal(2, run.Code);
        string[] told = run.Errors.Split('\n', StringSplitOptions.RemoveEmptyEntries);
        Assert.Equal(2, told.Length);
        Assert.Contains("a-text.jpg: This is not", told[0], StringComparison.Ordinal);
        Assert.Contains("d-half.jpg: The picture's data end early", told[1], StringComparison.Ordinal);
        Assert.True(run.Output.IndexOf("b-first.jpg: card 17", StringComparison.Ordinal)
            < run.Output.IndexOf("c-second.jpg: card 12", StringComparison.Ordinal));
        Assert.Contains("2 cards read from 2 photos; 2 photos not read: a-text.jpg, d-half.jpg (reasons above)", run.Output,
            StringComparison.Ordinal);
        foreach ((string folder, string plan) in new[] { ("out/card-17", Cli.Plan), ("out/card-12", Cli.SecondPlan) })
            Assert.Equal(CardJson.ReadPlan(File.ReadAllBytes(plan)).Value.Sha256,
                CardJson.ReadReading(File.ReadAllBytes(_scratch[$"{folder}/reading.json"])).Value.PlanSha256);
    }

    [Fact]
    public void Each_reading_is_the_one_that_its_photos_alone_give_and_the_list_of_them_is_always_the_same()
    {
        string[] read =
        [
            "read", _scratch["photos/c-second.jpg"], _scratch["photos/b-first.jpg"], "--plan", Cli.Plan, "--plan", Cli.SecondPlan, "--json"
        ];
        CliRun run = Cli.Run(read);

        Assert.Equal((0, ""), (run.Code, run.Errors));
        Assert.Equal(run.Output, Cli.Run(read).Output);
        using JsonDocument list = JsonDocument.Parse(run.Output);
        string[] alone = [.. new[] { ("c-second.jpg", Cli.SecondPlan), ("b-first.jpg", Cli.Plan) }
            .Select(card => Cli.Run("read", _scratch[$"photos/{card.Item1}"], "--plan", card.Item2, "--json").Output)];
        Assert.Equal(
            alone.Select(text => CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(text)).Value),
            list.RootElement.EnumerateArray()
                .Select(each => CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(each.GetRawText())).Value));
    }

    [Fact]
    public void Cards_of_the_archive_are_found_and_kept()
    {
        foreach ((string photo, string plan) in new[] { (Cli.Photo, Cli.Plan), (Cli.SecondPhoto, Cli.SecondPlan) })
            Assert.Equal(0, Run("read", photo, "--plan", plan, "--json").Code);

        CliRun run = Run("read", _scratch["photos/*.jpg"], "--out", _scratch["out"]);

        Assert.Equal((0, ""), (run.Code, run.Errors));
        Assert.Contains("2 cards read from 2 photos", run.Output, StringComparison.Ordinal);
        Assert.True(File.Exists(_scratch["out/card-17/report.html"]) && File.Exists(_scratch["out/card-12/report.html"]));

        CliRun Run(params string[] args) => Cli.RunWith(_scratch["archive"], args);
    }

    [Fact]
    public void A_card_without_a_plan_is_told_and_stops_no_other()
    {
        CliRun run = Cli.Run("read", _scratch["photos/b-first.jpg"], _scratch["photos/c-second.jpg"], "--plan", Cli.Plan, "--plan",
            Path.Combine(Path.GetDirectoryName(Cli.Plan)!, "..", "cut-lime", "plan.json"), "--json");

        Assert.Equal(2, run.Code);
        Assert.Contains("c-second.jpg: The photo shows card 12, and no archive is in use", run.OnlyLine(), StringComparison.Ordinal);
        Assert.Equal(17, CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(run.Output)).Value.Plan.Number);
    }

    [Fact]
    public void A_photo_that_cannot_be_read_is_left_out_of_its_card_with_a_word()
    {
        string bad = _scratch.Write("bad.jpg", File.ReadAllBytes(Cli.Photo)[..3000]);

        CliRun run = Cli.Run("read", bad, _scratch["photos/b-first.jpg"], _scratch["photos/c-second.jpg"], "--plan", Cli.Plan, "--json");

        Assert.Equal(3, run.Code);
        Assert.Contains("bad.jpg was left out: The picture's data end early", run.Errors, StringComparison.Ordinal);
        Assert.Contains("c-second.jpg was left out: ", run.Errors, StringComparison.Ordinal);
        Assert.Equal("b-first.jpg", CardJson.ReadReading(System.Text.Encoding.UTF8.GetBytes(run.Output)).Value.Photos.Single().File);
    }

    [Fact]
    public void What_cannot_be_sorted_is_refused_with_a_remedy()
    {
        string twin = _scratch.Write("twin.json", File.ReadAllText(Cli.Plan));
        Assert.Contains("plans with the same card number, 17",
            Cli.Run("read", _scratch["photos"], "--plan", Cli.Plan, "--plan", twin).OnlyLine(), StringComparison.Ordinal);
        Directory.CreateDirectory(_scratch["empty"]);
        Assert.Contains("There are no photos in", Cli.Run("read", _scratch["empty"], "--plan", Cli.Plan).OnlyLine(),
            StringComparison.Ordinal);
        Assert.Contains("No photo matches", Cli.Run("read", _scratch["photos/*.png"], "--plan", Cli.Plan).OnlyLine(),
            StringComparison.Ordinal);
        CliRun none =
            Cli.Run("read", _scratch.Write("one.jpg", "text"), _scratch.Write("two.jpg", ""), "--plan", Cli.Plan, "--plan", Cli.SecondPlan);
        Assert.Equal(2, none.Code);
        Assert.Contains("0 cards read from 0 photos", none.Output, StringComparison.Ordinal);
    }
}
