using System.Net;
using AngleSharp.Html.Dom;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>The result on the page.</summary>
public class ReadingPageTests
{
    private static Task<ServedPage> WithReading() =>
        ServedPage.WithRead(["photos/birch-engrave.plan.json"], "photos/birch-engrave.jpg");

    [Fact]
    public async Task It_says_the_setting_whether_it_can_be_used_and_what_to_mind()
    {
        await using ServedPage page = await WithReading();
        IHtmlDocument shown = await page.Page("/readings/r1");
        Reading reading = page.Archive.Show("r1").Value.Reading!.Reading;
        Assert.Contains(Judgement.Of(reading).Lead, shown.Body!.TextContent, StringComparison.Ordinal);
        Recommendation first = reading.Recommendations[0];
        Assert.Contains($"{first.SpeedMmPerMin}", shown.QuerySelector("#answer .figures")!.TextContent, StringComparison.Ordinal);
        Assert.NotNull(shown.QuerySelector("#cautions"));
    }

    [Fact]
    public async Task The_photo_is_the_one_of_the_report_and_every_cell_can_be_touched()
    {
        await using ServedPage page = await WithReading();
        IHtmlDocument shown = await page.Page("/readings/r1");
        Reading reading = page.Archive.Show("r1").Value.Reading!.Reading;
        Assert.Equal(reading.Plan.Cells.Count, shown.QuerySelectorAll("svg.photo a.cell").Length);
        byte[] picture = await page.Client.GetByteArrayAsync(page.At("/readings/r1/photos/0.jpg"));
        Assert.Equal([0xFF, 0xD8, 0xFF], picture[..3]);
        Assert.Contains(Convert.ToBase64String(picture),
            File.ReadAllText(page.Archive.Show("r1").Value.Reading!.Entry.ReportPath!), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cell_tells_its_settings_and_figures_with_their_errors()
    {
        await using ServedPage page = await WithReading();
        CellReading cell = page.Archive.Show("r1").Value.Reading!.Reading.Cells.First(each => each is { Row: 1, Column: 2 });
        using HttpRequestMessage asked = page.Own(HttpMethod.Get, "/readings/r1?cell=2-3");
        using HttpResponseMessage answer = await page.Client.SendAsync(asked);
        string part = await answer.Content.ReadAsStringAsync();
        Assert.StartsWith("<div class=\"one-cell\"", part, StringComparison.Ordinal);
        Assert.Contains($"{cell.Settings.SpeedMmPerMin}", part, StringComparison.Ordinal);
        Assert.Contains("±", part, StringComparison.Ordinal);
        // Without a script the link leads to the whole page with the same cell.
        Assert.NotNull((await page.Page("/readings/r1?cell=2-3")).QuerySelector("#cell .one-cell"));
    }

    [Theory]
    [InlineData("0-0")]
    [InlineData("99-1")]
    [InlineData("x")]
    [InlineData("1-2-3")]
    public async Task A_cell_that_is_not_there_is_told_so(string cell)
    {
        await using ServedPage page = await WithReading();
        using HttpRequestMessage asked = page.Own(HttpMethod.Get, $"/readings/r1?cell={cell}");
        using HttpResponseMessage answer = await page.Client.SendAsync(asked);
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Fact]
    public async Task The_answer_follows_the_choices_as_the_command_line_would_give_it()
    {
        await using ServedPage page = await WithReading();
        string lenient = await page.Text("/readings/r1/answer?full=80&sure=80");
        Reading scored = ScoreReading.Run(new()
        {
            Readings = ["r1"], Archive = page.Archive,
            Scoring = new() { FullMarkShare = 0.8, FullMarkConfidence = 0.8, CutConfidence = 0.8 },
        }).Value.Reading;
        Recommendation fastest = scored.Recommendations.First(each => each.Goal == Goal.FastestFullMark);
        Assert.Contains($"{fastest.SpeedMmPerMin}", lenient, StringComparison.Ordinal);
        Assert.NotEqual(lenient, await page.Text("/readings/r1/answer?full=99&sure=99"));
    }

    [Fact]
    public async Task Speeds_are_told_in_the_other_unit_by_one_touch_and_the_next_card_is_planned_by_another()
    {
        await using ServedPage page = await WithReading();
        IHtmlDocument shown = await page.Page("/readings/r1");
        Assert.Contains("1500 mm/min", Plain(shown.QuerySelector("#as-text")!.TextContent), StringComparison.Ordinal);
        using HttpResponseMessage told = await page.Post(ActionOf(shown, "MmPerS"));
        Assert.Equal("/readings/r1", told.Headers.GetValues(Answer.GoHeader).Single());
        Assert.Contains("25 mm/s", Plain((await page.Page("/readings/r1")).QuerySelector("#as-text")!.TextContent),
            StringComparison.Ordinal);

        using HttpResponseMessage next = await page.Post(ActionOf(shown, "next"));
        Assert.Equal("/cards/c2", next.Headers.GetValues(Answer.GoHeader).Single());
        Assert.NotEmpty((await page.Page("/cards/c2")).QuerySelectorAll(".notes li"));

        static string ActionOf(IHtmlDocument document, string end) =>
            document.QuerySelector($".tools form[action$='{end}']")!.GetAttribute("action")!;
        static string Plain(string text) => text.Replace('\u00a0', ' ');
    }

    /// <summary>The program may stand in any folder: what lies there under the reading's name is nobody's answer.</summary>
    [Fact]
    public async Task A_folder_that_is_called_as_a_reading_answers_for_nobody()
    {
        await using ServedPage page = await WithReading();
        string before = await page.Text("/readings/r1/answer");
        string folder = Path.GetFullPath("r1");
        Directory.CreateDirectory(folder);
        try
        {
            Assert.Equal(before, await page.Text("/readings/r1/answer"));
        }
        finally
        {
            Directory.Delete(folder);
        }
    }

    [Theory]
    [InlineData("/readings/r2")]
    [InlineData("/readings/r2/answer")]
    public async Task A_reading_that_is_not_there_is_told_with_the_remedy(string path)
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage answer = await page.Client.GetAsync(page.At(path));
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
        Assert.Contains(Codes.ArchiveNoSuch, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }
}
