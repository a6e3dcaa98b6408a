using System.Diagnostics;
using System.Net;
using AngleSharp.Dom;
using CardScan.Model;
using CardScan.Workflow;
using CardScan.Workflow.Tests;

namespace CardScan.Web.Tests;

/// <summary>Photos on their way: sent, looked at, read, kept.</summary>
public class PhotoTests
{
    private const string Birch = "photos/birch-engrave.jpg", BirchPlan = "photos/birch-engrave.plan.json",
        MetalPlan = "photos/coated-metal-engrave.plan.json", CutPlan = "cut/plan.json";

    private static byte[] Photo(string name) => File.ReadAllBytes(ServedPage.Data(name));

    /// <summary>A photo is said to be done before its file goes: a reader of the page waits for no disk.</summary>
    private static async Task IsEmptied(string folder)
    {
        long begun = Stopwatch.GetTimestamp();
        while (Directory.EnumerateFiles(folder).Any() && Stopwatch.GetElapsedTime(begun) < TimeSpan.FromSeconds(20)) await Task.Delay(20);
        Assert.Empty(Directory.EnumerateFiles(folder));
    }

    private static string Inbox(ServedPage page) => Path.Combine(page.Folder, "archive", "inbox");

    [Fact]
    public async Task A_photo_that_is_sent_becomes_a_reading_of_the_archive_as_the_command_line_makes_it()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        await page.Send("IMG_0001.jpg", Photo(Birch));
        IElement photo = Assert.Single(await page.Photos());
        Assert.Contains("kept", photo.ClassList);
        Assert.Equal("/readings/r1", await page.NewestResult());

        KeptReadingView kept = page.Archive.Show("r1").Value.Reading!;
        ReadCardsResult read = ReadCards.Run(
            new() { Photos = [ServedPage.Data(Birch)], Plans = [ServedPage.Data(BirchPlan)] }).Value;
        Assert.Equal(read.Cards[0].Reading.Cells, kept.Reading.Cells);
        Assert.Equal(read.Cards[0].Reading.Recommendations, kept.Reading.Recommendations);
        Assert.Equal("IMG_0001.jpg", kept.Reading.Photos.Single().File);
        Assert.Equal(Photo(Birch), File.ReadAllBytes(kept.Entry.Photos.Single().Path!));
        await IsEmptied(Inbox(page));
    }

    [Fact]
    public async Task Photos_of_one_card_add_up_in_whatever_order_they_come()
    {
        await using ServedPage page = await ServedPage.Start(CutPlan);
        foreach (string name in new[] { "cut/lime-cut-left.jpg", "cut/lime-cut-front.jpg", "cut/lime-cut-right.jpg" })
            await page.Send(Path.GetFileName(name), Photo(name));
        await page.Photos();
        Assert.Equal(3, page.Archive.Show((await page.NewestResult()).Split('/')[^1]).Value.Reading!.Reading.Photos.Count);
    }

    [Fact]
    public async Task A_photo_too_bright_to_be_read_is_refused_and_still_helps_the_one_beside_it()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        foreach ((string name, double light) in new[] { ("usual.jpg", 0.6), ("bright.jpg", 2.6) })
            await page.Send(name, ExposedPhoto.Of(ServedPage.Data(Birch), light));
        IElement[] photos = [.. await page.Photos()];
        Assert.Equal(1, photos.Count(photo => photo.ClassList.Contains("refused")));
        string reading = (await page.NewestResult()).Split('/')[^1];
        PhotoRecord read = Assert.Single(page.Archive.Show(reading).Value.Reading!.Reading.Photos);
        Assert.Equal(("usual.jpg", PhotoResponse.Series), (read.File, read.Response?.Source));
        await IsEmptied(Inbox(page));
    }

    [Fact]
    public async Task A_phone_that_is_remembered_is_told_by_its_name_which_is_never_markup()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        Assert.Null((await page.Page(ArchivePage.Path)).QuerySelector("#phones"));
        foreach ((string name, double light) in new[] { ("usual.jpg", 1), ("dark.jpg", 0.4) })
        {
            byte[] photo = ExposedPhoto.Of(ServedPage.Data(Birch), light);
            await page.Send(name, Vision.Tests.PhotoFiles.WithExposure(photo, 0.01 * light, model: "<b>Phone</b>"));
        }

        await page.Photos();
        IElement phones = (await page.Page(ArchivePage.Path)).QuerySelector("#phones")!.ParentElement!;
        Assert.StartsWith("<b>Phone</b>, one series of photos", phones.QuerySelector("li")!.TextContent.Trim(), StringComparison.Ordinal);
        Assert.Null(phones.QuerySelector("b"));
    }

    [Fact]
    public async Task A_card_can_be_started_again_and_what_was_kept_of_it_stays()
    {
        await using ServedPage page = await ServedPage.Start(CutPlan);
        foreach (string name in new[] { "cut/lime-cut-left.jpg", "cut/lime-cut-front.jpg" })
            await page.Send(Path.GetFileName(name), Photo(name));
        await page.Photos();
        string again = (await page.Page("/photos")).QuerySelector(".result form")!.GetAttribute("action")!;
        using (HttpResponseMessage answer = await page.Post(again)) Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Empty(await page.Photos());
        await page.Send("left.jpg", Photo("cut/lime-cut-left.jpg"));
        IElement photo = Assert.Single(await page.Photos());
        string reading = photo.QuerySelector("a")!.GetAttribute("href")!.Split('/')[^1];
        Assert.Equal("left.jpg", Assert.Single(page.Archive.Show(reading).Value.Reading!.Reading.Photos).File);
        Assert.Contains(page.Archive.Show("c1").Value.Cards[0].Readings, kept => kept.Photos.Count == 2);
    }

    /// <summary>The answer does not wait for the annotated pictures; the card's last reading gets them when no photo waits.</summary>
    [Fact]
    public async Task Annotated_pictures_follow_when_no_photo_waits()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        for (int i = 0; i < 2; i++) await page.Send($"{i}.jpg", [.. Photo(Birch), (byte)i]);
        await page.Photos();
        string newest = (await page.NewestResult()).Split('/')[^1];
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(1));
        while (Annotated().Contains(null)) await Task.Delay(50, patience.Token);
        Assert.Equal(2, Annotated().Length);
        Assert.All(Annotated(), path => Assert.Equal([0x89, (byte)'P', (byte)'N', (byte)'G'], File.ReadAllBytes(path!)[..4]));
        Assert.Empty(page.Archive.Verify().Value.Faults);

        string?[] Annotated() => [.. page.Archive.Show(newest).Value.Reading!.Entry.Photos.Select(photo => photo.AnnotatedPath)];
    }

    [Fact]
    public async Task A_photo_of_two_cards_stands_in_the_list_once_for_each()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan, MetalPlan);
        await page.Send("both.jpg", BothCards());

        IReadOnlyList<IElement> cards = await page.Photos();

        Assert.All(cards, card => Assert.Contains("kept", card.ClassList));
        string[] readings = [.. cards.Select(card => card.QuerySelector("a")!.GetAttribute("href")!.Split('/')[^1]).Order()];
        Assert.Equal(["r1", "r2"], readings);
        Assert.Equal(2, readings.Select(name => page.Archive.Show(name).Value.Reading!.Reading.Plan.Number).Distinct().Count());
        await IsEmptied(Inbox(page));
    }

    /// <summary>The process ended when one of the two was kept: the other is read, and the first not again.</summary>
    [Fact]
    public async Task A_photo_of_two_cards_goes_on_after_a_restart_with_the_card_that_is_missing()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan, MetalPlan);
        string both = Path.Combine(page.Folder, "both.jpg");
        await File.WriteAllBytesAsync(both, BothCards());
        Assert.Single(ReadCards.Run(new() { Photos = [both], Archive = page.Archive, Plans = [ServedPage.Data(BirchPlan)] }).Value.Cards);
        await page.Server.DisposeAsync();
        Directory.CreateDirectory(Inbox(page));
        File.Copy(both, Path.Combine(Inbox(page), $"{Guid.NewGuid():N}.photo"));
        await page.StartAnew();

        IReadOnlyList<IElement> cards = await page.Photos();

        Assert.Equal(["/readings/r1", "/readings/r2"], cards.Select(card => card.QuerySelector("a")!.GetAttribute("href")).Order());
        await IsEmptied(Inbox(page));
    }

    /// <summary>The birch card and the coated metal, which burns the other way, side by side.</summary>
    private static byte[] BothCards() =>
        PhotoOfBoth.Of(ServedPage.Data(Birch), ServedPage.Data("photos/coated-metal-engrave.jpg"));

    [Fact]
    public async Task The_same_photo_sent_twice_is_one()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        string first = await page.Send("a.jpg", Photo(Birch)), second = await page.Send("b.jpg", Photo(Birch));
        Assert.Equal(first, second);
        Assert.Single(await page.Photos());
        Assert.True(page.Archive.Show("r2").IsRefused);
    }

    [Fact]
    public async Task A_photo_of_a_card_that_nobody_planned_is_refused_with_the_sentence_of_the_command_line()
    {
        await using ServedPage page = await ServedPage.Start();
        await page.Send("unknown.jpg", Photo(Birch));
        IElement photo = Assert.Single(await page.Photos());
        Assert.Contains("refused", photo.ClassList);
        Assert.Equal(Codes.CardUnknown, photo.QuerySelector(".code")!.TextContent);
        await IsEmptied(Inbox(page));
    }

    [Fact]
    public async Task A_photo_stands_small_in_the_list_with_the_corners_that_were_found()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        await page.Send("a.jpg", Photo(Birch));
        IElement photo = Assert.Single(await page.Photos());
        Assert.Equal(4, photo.QuerySelectorAll("svg.shot g.found").Length);
        byte[] small = await page.Client.GetByteArrayAsync(page.At(photo.QuerySelector("svg.shot image")!.GetAttribute("href")!));
        Assert.Equal([0xFF, 0xD8, 0xFF], small[..3]);
        Assert.InRange(small.Length, 1000, 40_000);
    }

    [Fact]
    public async Task A_photo_with_covered_corners_is_shown_with_those_that_are_missing_where_they_should_be()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        await page.Send("covered.jpg", Photo("photos/birch-corners-covered.jpg"));
        IElement photo = Assert.Single(await page.Photos());
        Assert.Equal(Codes.MarkersMissing, photo.QuerySelector(".code")!.TextContent);
        Assert.Equal(2, photo.QuerySelectorAll("svg.shot g.found").Length);
        Assert.Equal(2, photo.QuerySelectorAll("svg.shot g.missing").Length);
        Assert.Contains(
            "2 of the card’s 4 corners", photo.QuerySelector("svg.shot")!.GetAttribute("aria-label")!, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_photo_without_a_card_is_shown_as_it_is()
    {
        await using ServedPage page = await ServedPage.Start();
        await page.Send("unknown.jpg", Photo(Birch));
        IElement drawing = Assert.Single(await page.Photos()).QuerySelector("svg.shot")!;
        Assert.NotNull(drawing.QuerySelector("image"));
        Assert.Empty(drawing.QuerySelectorAll("g"));
    }

    [Fact]
    public async Task A_file_that_is_no_photo_has_no_picture()
    {
        await using ServedPage page = await ServedPage.Start();
        string id = await page.Send("notes.jpg", "This is no photo at all."u8.ToArray());
        Assert.Null(Assert.Single(await page.Photos()).QuerySelector("svg.shot"));
        using HttpResponseMessage none = await page.Client.GetAsync(page.At($"/photos/{id}/small.jpg"));
        Assert.Equal(HttpStatusCode.NotFound, none.StatusCode);
    }

    [Fact]
    public async Task A_file_that_is_no_photo_is_refused_and_gone()
    {
        await using ServedPage page = await ServedPage.Start();
        await page.Send("notes.jpg", "This is no photo at all."u8.ToArray());
        Assert.Contains("refused", Assert.Single(await page.Photos()).ClassList);
        await IsEmptied(Inbox(page));
    }

    [Fact]
    public async Task What_was_broken_off_goes_on_where_it_stopped()
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        byte[] bytes = Photo(Birch);
        string id = await page.Begin("a.jpg", bytes.Length);
        await page.Put(id, 0, bytes[..1000]);
        Assert.Contains("\"at\":1000,\"done\":false", await page.Text($"/photos/{id}"), StringComparison.Ordinal);
        // What came already, and what would leave a gap, is passed over.
        foreach (int at in new[] { 0, 500, 2000 })
            Assert.Contains("\"at\":1000,", (await page.Put(id, at, bytes[at..(at + 1000)])).Text, StringComparison.Ordinal);
        (HttpStatusCode code, string text) = await page.Put(id, 1000, bytes[1000..]);
        Assert.Contains("\"done\":true", text, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, code);
        Assert.Contains("kept", Assert.Single(await page.Photos()).ClassList);
    }

    [Fact]
    public async Task After_a_restart_a_half_photo_is_gone_and_a_whole_one_is_read()
    {
        await using ServedPage page = await ServedPage.Start();
        byte[] bytes = Photo(Birch);
        string half = await page.Begin("half.jpg", bytes.Length);
        await page.Put(half, 0, bytes[..1000]);
        await page.Server.DisposeAsync();
        // A whole one that the server had taken and not yet looked at.
        string whole = $"{Guid.NewGuid():N}";
        File.WriteAllBytes(Path.Combine(Inbox(page), $"{whole}.photo"), bytes);
        File.WriteAllText(Path.Combine(Inbox(page), $"{whole}.name"), "whole.jpg");
        ServedPage.Keep(page.Folder, ServedPage.Data(BirchPlan));

        await page.StartAnew();
        IElement photo = Assert.Single(await page.Photos());
        Assert.Contains("kept", photo.ClassList);
        Assert.Equal("whole.jpg", photo.QuerySelector(".name")!.TextContent);
        using HttpResponseMessage gone = await page.Client.GetAsync(page.At($"/photos/{half}"));
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
        await IsEmptied(Inbox(page));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-1)]
    [InlineData(101_000_001)]
    [InlineData(long.MaxValue)]
    public async Task A_size_that_no_photo_has_is_refused_before_anything_is_sent(long size)
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage answer = await page.Post($"/photos?name=a.jpg&size={size}");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.False(Directory.Exists(Inbox(page)));
    }

    [Fact]
    public async Task More_than_was_announced_is_refused()
    {
        await using ServedPage page = await ServedPage.Start();
        string id = await page.Begin("a.jpg", 100);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, (await page.Put(id, 0, new byte[101])).Code);
    }

    [Theory]
    [InlineData("<script>alert(1)</script>.jpg")]
    [InlineData("../../../etc/passwd")]
    [InlineData("a\u0000b\r\nX: y.jpg")]
    [InlineData("\"><img src=x onerror=alert(1)>.jpg")]
    public async Task A_name_is_text_and_nothing_else(string name)
    {
        await using ServedPage page = await ServedPage.Start(BirchPlan);
        await page.Send(name, Photo(Birch));
        IElement photo = Assert.Single(await page.Photos());
        Assert.Equal(Web.Inbox.Shown(name), photo.QuerySelector(".name")!.TextContent);
        Assert.Equal(2, photo.QuerySelectorAll("p").Length);
        Assert.Empty((await page.Page("/readings/r1")).QuerySelectorAll("img[onerror], script:not([src])"));
    }

    [Fact]
    public void A_name_is_shown_without_folders_and_without_end()
    {
        Assert.Equal("c.jpg", Web.Inbox.Shown(@"a/b\c.jpg"));
        Assert.Equal(120, Web.Inbox.Shown(new string('x', 5000)).Length);
    }
}
