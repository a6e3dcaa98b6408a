using System.IO.Compression;
using System.Net;
using System.Text.Json;
using AngleSharp.Html.Dom;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>What the archive holds, on the page: today's tasks, settings, cards, two of them compared, bundles out and in.</summary>
public class ArchivePagesTests
{
    private const string Birch = "photos/birch-engrave.plan.json", Second = "second/plan.json", Cut = "cut/plan.json";

    private static async Task Read(ServedPage page, params string[] photos)
    {
        foreach (string photo in photos) await page.Send(Path.GetFileName(photo), File.ReadAllBytes(ServedPage.Data(photo)));
        await page.Photos();
    }

    [Fact]
    public async Task An_empty_archive_shows_the_three_steps()
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Equal(3, (await page.Page("/")).QuerySelectorAll(".steps-to-take li").Length);
    }

    [Fact]
    public async Task Today_tells_of_a_card_that_is_planned_then_burned_then_read()
    {
        await using ServedPage page = await ServedPage.Start(Birch);
        Assert.Contains(Said("planned"), await Tasks(page), StringComparison.Ordinal);
        page.Archive.Tag("c1", [TodayPage.BurnedTag], isOff: false);
        Assert.Contains(Said("burned"), await Tasks(page), StringComparison.Ordinal);
        await Read(page, "photos/birch-engrave.jpg");
        IHtmlDocument today = await page.Page("/");
        Assert.Empty(today.QuerySelectorAll(".tasks li"));
        Assert.Contains("1500 mm/min", Plain(today.QuerySelector("#latest")!.ParentElement!.TextContent), StringComparison.Ordinal);

        static string Said(string state) =>
            Voice.Say("web.today.task", ("state", state), ("card", "Card 17 · birch plywood 3 mm")).Replace('\u00a0', ' ');
    }

    [Fact]
    public async Task A_closed_card_is_nothing_to_do()
    {
        await using ServedPage page = await ServedPage.Start(Birch);
        page.Archive.Close("c1", isOpenedAgain: false);
        Assert.Empty((await page.Page("/")).QuerySelectorAll(".tasks li"));
    }

    [Fact]
    public async Task A_setting_is_found_by_a_word_and_says_how_sure_it_is_and_where_it_comes_from()
    {
        await using ServedPage page = await ServedPage.WithRead([Birch, Cut], "photos/birch-engrave.jpg", "cut/lime-cut-left.jpg");
        IHtmlDocument found = await page.Page("/settings?text=birch&thickness=3");
        AngleSharp.Dom.IElement[] items = [.. found.QuerySelectorAll(".entries li")];
        Assert.NotEmpty(items);
        Assert.All(items, item => Assert.Contains("birch plywood", item.TextContent, StringComparison.Ordinal));
        Assert.Equal("/readings/r1", items[0].QuerySelector("a")!.GetAttribute("href"));
        Assert.Contains("sure", items[0].TextContent, StringComparison.Ordinal);
        Assert.Empty((await page.Page("/settings?text=birch&thickness=4")).QuerySelectorAll(".entries li"));
        Assert.Empty((await page.Page("/settings?text=oak")).QuerySelectorAll(".entries li"));
    }

    [Fact]
    public async Task Two_spellings_of_a_material_are_brought_together_by_a_button()
    {
        await using ServedPage page = await ServedPage.WithRead([Birch], "photos/birch-engrave.jpg");
        string other = Path.Combine(page.Folder, "other.json");
        File.WriteAllText(other, File.ReadAllText(ServedPage.Data(Birch)).Replace("birch plywood", "Birch ply", StringComparison.Ordinal));
        ServedPage.Keep(page.Folder, other);

        IHtmlDocument found = await page.Page("/settings");
        AngleSharp.Dom.IElement form = found.QuerySelector($"form[action='{SettingsPage.JoinPath}']")!;
        (string, string)[] fields =
            [.. form.QuerySelectorAll("input").Select(field => (field.GetAttribute("name")!, field.GetAttribute("value")!))];
        using HttpResponseMessage joined = await page.Post(SettingsPage.JoinPath, fields);

        Assert.Equal("/settings", joined.Headers.GetValues(Answer.GoHeader).Single());
        Assert.Null((await page.Page("/settings")).QuerySelector($"form[action='{SettingsPage.JoinPath}']"));
        Assert.Single(page.Archive.KeptNames().Value);
        using HttpResponseMessage unknown = await page.Post(SettingsPage.JoinPath, ("kind", "material"), ("old", "oak"), ("new", "ash"));
        Assert.Contains("rename-unknown", await unknown.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    /// <summary>A likely cut is not called sure, and has the lower limit beside the best estimate.</summary>
    [Fact]
    public async Task A_cut_that_is_not_sure_is_called_so()
    {
        await using ServedPage page =
            await ServedPage.WithRead([Cut], "cut/lime-cut-left.jpg", "cut/lime-cut-right.jpg", "cut/lime-cut-front.jpg");
        KeptSetting best = SettingsBook.Of(page.Archive, new()).Value.Settings[0];
        Assert.True(best.Recommendation.Confidence < Reading.LeastSureCut);
        string item = Plain((await page.Page("/settings")).QuerySelector(".entries li")!.TextContent);
        Assert.Contains("best estimate", item, StringComparison.Ordinal);
        Assert.Contains("no setting yet", item, StringComparison.Ordinal);
        Assert.Contains($"count on {Math.Round(100 * best.Recommendation.Confidence!.Value)} %", item, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", 2)]
    [InlineData("?text=B-0597", 1)]
    [InlineData("?process=cut", 0)]
    [InlineData("?from=2100-01-01", 0)]
    [InlineData("?to=2000-01-01", 0)]
    [InlineData("?from=yesterday&thickness=abc&process=x&most=-5", 1)]
    [InlineData("?text=%00%27%22%3B--*", 2)] // no word, so no condition
    public async Task Cards_are_found(string query, int count)
    {
        await using ServedPage page = await ServedPage.Start(Birch, Second);
        Assert.Equal(count, (await page.Page($"/archive{query}")).QuerySelectorAll(".entries li").Length);
    }

    [Fact]
    public async Task Cards_saved_on_one_computer_are_taken_in_on_another_once()
    {
        await using ServedPage from = await ServedPage.WithRead([Birch], "photos/birch-engrave.jpg"), to = await ServedPage.Start();
        byte[] bundle = await from.Client.GetByteArrayAsync(from.At("/archive/cards.zip"));
        Assert.Contains("Taken in: 1 card, 1 reading.", await Bundle(to, bundle), StringComparison.Ordinal);
        Assert.Contains("Taken in: 0 cards, 0 readings.", await Bundle(to, bundle), StringComparison.Ordinal);
        Assert.Equal(from.Archive.Show("r1").Value.Reading!.Reading, to.Archive.Show("r1").Value.Reading!.Reading);
        Assert.Equal("a.cell", (await to.Page("/readings/r1")).QuerySelector("a.cell") is null ? "" : "a.cell");
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(to.Folder, "archive", "inbox", "bundles")));
    }

    [Fact]
    public async Task A_bundle_that_is_none_is_refused_and_leaves_nothing()
    {
        await using ServedPage page = await ServedPage.Start();
        Assert.Contains("class=\"refusal\"", await Bundle(page, [1, 2, 3]), StringComparison.Ordinal);
        Assert.Equal(0, page.Archive.Find(new()).Value.Count);
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(page.Folder, "archive", "inbox", "bundles")));
    }

    [Fact]
    public async Task Cards_are_saved_as_a_table_and_as_json_too()
    {
        await using ServedPage page = await ServedPage.WithRead([Birch], "photos/birch-engrave.jpg");
        Assert.Equal(31, (await page.Text("/archive/cards.csv")).Split("\r\n", StringSplitOptions.RemoveEmptyEntries).Length);
        Assert.Equal("r1", JsonDocument.Parse(await page.Text("/archive/cards.json")).RootElement[0].GetProperty("name").GetString());
        using ZipArchive bundle = new(await page.Client.GetStreamAsync(page.At("/archive/cards.zip")));
        Assert.NotEmpty(bundle.Entries);
    }

    [Fact]
    public async Task Two_cards_are_compared_as_on_the_comparison_page()
    {
        await using ServedPage page = await ServedPage.WithRead([Birch, Second], "photos/birch-engrave.jpg", "second/birch-second.jpg");
        Assert.Equal(2, (await page.Page("/compare")).QuerySelectorAll("select[name=first] option").Length);
        Assert.Contains("B-0597", (await page.Page("/compare?first=r1&second=r2")).QuerySelector("h1")!.TextContent,
            StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("first=r1&second=r1", "reading-twice")]
    [InlineData("first=r1&second=r9", "archive-no-such")]
    [InlineData("first=/etc/passwd&second=r1", "archive-no-such")]
    [InlineData("first=r1&second=..%2Freading.json", "archive-no-such")]
    public async Task What_cannot_be_compared_is_refused(string query, string code)
    {
        await using ServedPage page = await ServedPage.WithRead([Birch], "photos/birch-engrave.jpg");
        IHtmlDocument shown = await page.Page($"/compare?{query}");
        Assert.Equal(code, shown.QuerySelector(".refusal .code")!.TextContent);
        Assert.DoesNotContain("root:", shown.Body!.TextContent, StringComparison.Ordinal);
    }

    private static async Task<string> Bundle(ServedPage page, byte[] bytes)
    {
        using HttpResponseMessage begun = await page.Post($"/bundles?name=cards.zip&size={bytes.Length}");
        string id = JsonDocument.Parse(await begun.Content.ReadAsStringAsync()).RootElement.GetProperty("id").GetString()!;
        using HttpRequestMessage put = page.Own(HttpMethod.Put, $"/bundles/{id}?at=0", new ByteArrayContent(bytes));
        using HttpResponseMessage answer = await page.Client.SendAsync(put);
        Assert.True(answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.UnprocessableEntity);
        return await answer.Content.ReadAsStringAsync();
    }

    private static async Task<string> Tasks(ServedPage page) => Plain((await page.Page("/")).QuerySelector(".tasks")!.TextContent);

    private static string Plain(string text) => text.Replace('\u00a0', ' ');
}
