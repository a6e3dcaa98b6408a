using System.Net;
using AngleSharp.Html.Dom;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>A card's page, and what is done with a card there.</summary>
public class CardPageTests
{
    private const string Plan = "photos/birch-engrave.plan.json", Photo = "photos/birch-engrave.jpg";

    private static Task<ServedPage> WithReading() => ServedPage.WithRead([Plan], Photo);

    private static CardEntry Entry(ServedPage page, int id = 1) => page.Archive.Show(CardEntry.NameOf(id)).Value.Cards[0].Card;

    private static async Task<HttpStatusCode> Do(ServedPage page, string path, params (string, string)[] fields)
    {
        using HttpResponseMessage answer = await page.Post(path, fields);
        return answer.StatusCode;
    }

    private static string StateOf(IHtmlDocument page) => page.QuerySelector("[data-live] .lead")!.TextContent;

    [Fact]
    public async Task It_says_what_to_do_next_and_follows_what_is_done()
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        Assert.StartsWith("This card is planned", StateOf(await page.Page("/cards/c1")), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/burned"));
        Assert.Equal([TodayPage.BurnedTag], Entry(page).Tags);
        Assert.StartsWith("This card is burned but not photographed", StateOf(await page.Page("/cards/c1")), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/burned-not"));
        Assert.Empty(Entry(page).Tags);
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/close"));
        Assert.NotNull(Entry(page).ClosedUtc);
        Assert.StartsWith("This card is closed", StateOf(await page.Page("/cards/c1")), StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/open"));
        Assert.Null(Entry(page).ClosedUtc);
        // The plan that was kept comes back byte for byte, and what only a machine that is known has is not offered.
        Assert.Equal(File.ReadAllBytes(ServedPage.Data(Plan)), await page.Client.GetByteArrayAsync(page.At("/cards/c1/files/plan.json")));
        Assert.Empty((await page.Page("/cards/c1")).QuerySelectorAll("a[href$='card.gcode']"));
    }

    [Fact]
    public async Task A_grey_strip_is_made_with_a_number_of_its_own_and_is_there_to_be_printed()
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        using HttpResponseMessage answer = await page.Post("/cards/strip");
        Assert.Equal("/cards/c2", answer.Headers.GetValues(Answer.GoHeader).Single());

        IHtmlDocument strip = await page.Page("/cards/c2");
        Assert.StartsWith("This is a grey strip", StateOf(strip), StringComparison.Ordinal);
        Assert.Equal(
            ["plan.json", "strip-a4.pdf", "strip-letter.pdf"], strip.QuerySelectorAll(".download a").Select(link => link.TextContent));
        byte[] pdf = await page.Client.GetByteArrayAsync(page.At("/cards/c2/files/strip-a4.pdf"));
        Assert.Equal("%PDF-"u8, pdf.AsSpan(0, 5));
        // Nothing burns it, so nothing is to be burned or planned next, and there is nothing to be careful of.
        Assert.Empty(strip.QuerySelectorAll("form[action$='burned'], form[action$='next'], table.steps, .cautions"));
        Assert.DoesNotContain("c2", (await page.Page("/")).Body!.InnerHtml, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Its_readings_stand_there_with_their_judgement_and_the_table_with_every_setting()
    {
        await using ServedPage page = await WithReading();
        IHtmlDocument card = await page.Page("/cards/c1");
        Reading reading = page.Archive.Show("r1").Value.Reading!.Reading;
        Assert.NotNull(card.QuerySelector("a[href='/readings/r1']"));
        Assert.Contains(Judgement.Of(reading).Lead, card.QuerySelector("[data-live] .photo")!.TextContent, StringComparison.Ordinal);
        string setting = card.QuerySelector("[data-live] .photo strong")!.TextContent;
        Assert.Contains($"{reading.Recommendations[0].SpeedMmPerMin}", setting, StringComparison.Ordinal);
        // Markers, labels, and each cell by itself: no two of this card share a setting.
        Assert.Equal(reading.Plan.Cells.Count + 2, card.QuerySelectorAll("table.steps tbody tr").Length);
    }

    [Fact]
    public async Task The_next_card_is_planned_and_kept_with_what_it_is_for()
    {
        await using ServedPage page = await WithReading();
        using HttpResponseMessage answer = await page.Post("/cards/c1/next");
        Assert.Equal("/cards/c2", answer.Headers.GetValues(Answer.GoHeader).Single());
        NextCardMade expected = PlanNext.Run(new()
        {
            Readings = ["r1"], OutputFolder = null, Number = 99, Archive = page.Archive,
        }).Value;
        KeptCardView kept = page.Archive.Show("c2").Value.Cards[0];
        Assert.Equal(expected.Ranges.Notes.Select(note => note.Message), kept.Notes.Select(note => note.Text));
        Assert.NotEmpty(kept.Notes);
        IHtmlDocument card = await page.Page("/cards/c2");
        Assert.Equal(kept.Notes.Select(note => note.Text), card.QuerySelectorAll(".notes .text").Select(note => Plain(note.TextContent)));
        // No file but the archive's own.
        Assert.Equal(["archive"], Directory.EnumerateFileSystemEntries(page.Folder).Select(path => Path.GetFileName(path)!));
    }

    [Fact]
    public async Task A_card_without_a_reading_has_no_next_one()
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        using HttpResponseMessage answer = await page.Post("/cards/c1/next");
        Assert.Contains(Codes.ArchiveNoReading, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("lens cleaned before this one\nand the belt tightened")]
    [InlineData("<img/src=x/onerror=alert(1)>&amp;")]
    public async Task Notes_and_tags_are_text(string text)
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/notes", ("text", text)));
        string tag = text.Split(' ')[0];
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/tags", ("tag", tag)));
        IHtmlDocument card = await page.Page("/cards/c1");
        Assert.Equal(text, card.QuerySelector(".notes .text")!.TextContent);
        Assert.Equal(tag, card.QuerySelector(".tags span")!.TextContent);
        Assert.Empty(card.QuerySelectorAll("img, script:not([src])"));
        Assert.Equal(HttpStatusCode.OK, await Do(page, "/cards/c1/tags-off", ("tag", tag)));
        Assert.Empty(Entry(page).Tags);
    }

    [Theory]
    [InlineData("/cards/c1/notes", "text", "")]
    [InlineData("/cards/c1/tags", "tag", "")]
    [InlineData("/cards/c1/tags", "tag", "a\u0001b")]
    public async Task What_the_command_line_refuses_is_refused_here(string path, string field, string value)
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, await Do(page, path, (field, value)));
        Assert.Empty(page.Archive.Show("c1").Value.Cards[0].Notes);
        Assert.Empty(Entry(page).Tags);
    }

    [Theory]
    [InlineData("burned")]
    [InlineData("burned-not")]
    [InlineData("close")]
    [InlineData("open")]
    [InlineData("notes")]
    [InlineData("tags")]
    [InlineData("next")]
    public async Task Nothing_is_done_with_a_card_that_is_not_there_nor_by_a_mere_visit(string what)
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        Assert.Equal(HttpStatusCode.NotFound, await Do(page, $"/cards/c7/{what}", ("text", "x"), ("tag", "x")));
        using HttpResponseMessage visit = await page.Client.GetAsync(page.At($"/cards/c1/{what}"));
        Assert.Equal(HttpStatusCode.NotFound, visit.StatusCode);
        Assert.Empty(Entry(page).Tags);
    }

    [Theory]
    [InlineData("pointer-power=5")]
    [InlineData("pointer-power=%3Cscript%3E")]
    public async Task A_pointer_that_would_burn_is_refused(string query)
    {
        await using ServedPage page = await ServedPage.Start(Plan);
        using HttpResponseMessage answer = await page.Client.GetAsync(page.At($"/cards/c1/files.zip?{query}"));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.DoesNotContain("<script>", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    private static string Plain(string text) => text.Replace('\u00a0', ' ').Replace('−', '-');
}
