using System.IO.Compression;
using System.Net;
using System.Web;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>Making a card on the page.</summary>
public class MakeCardTests
{
    private static readonly (string Name, string Value)[] Birch =
    [
        ("name", "bench diode"), ("watts", "10"), ("wavelength", "455"), ("fastest-feed", "6000mm/min"), ("area", "400x400"),
        ("full-power-s", "1000"), ("material", "birch plywood"), ("thickness", "3"), ("process", "cut"),
    ];

    private static string Query(params (string Name, string Value)[] fields) =>
        string.Join('&', fields.Select(field => $"{field.Name}={HttpUtility.UrlEncode(field.Value)}"));

    private static async Task<(HttpStatusCode Code, IHtmlDocument Part)> Follow(ServedPage page,
        params (string Name, string Value)[] fields)
    {
        using HttpRequestMessage asked = page.Own(HttpMethod.Get, $"{MakePage.FollowPath}?{Query(fields)}");
        using HttpResponseMessage answer = await page.Client.SendAsync(asked);
        return (answer.StatusCode, new AngleSharp.Html.Parser.HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync()));
    }

    private static (string Name, string Value)[] With(params (string Name, string Value)[] more) =>
        [.. Birch.Where(field => more.All(other => other.Name != field.Name)), .. more];

    /// <summary>Presses the button of the part.</summary>
    private static async Task<HttpResponseMessage> Press(ServedPage page, IHtmlDocument part)
    {
        IElement form = part.QuerySelector("form[action='/cards']")!;
        return await page.Post("/cards", [.. form.QuerySelectorAll("input[type=hidden]")
            .Select(input => (input.GetAttribute("name")!, input.GetAttribute("value")!))]);
    }

    private static PlanRequest Asked => new()
    {
        Process = Process.Cut,
        Material = new() { Name = "birch plywood", ThicknessMm = 3 },
        Machine = new()
        {
            Name = "bench diode", RatedOpticalWatts = 10, WavelengthNm = 455, FastestFeedMmPerMin = 6000, FullPowerS = 1000,
            WorkArea = new() { WidthMm = 400, HeightMm = 400 },
        },
        Settings = [],
    };

    [Fact]
    public async Task What_the_page_shows_and_makes_is_what_the_command_line_writes_byte_for_byte()
    {
        await using ServedPage page = await ServedPage.Start();
        (_, IHtmlDocument part) = await Follow(page, Birch);
        using HttpResponseMessage made = await Press(page, part);
        Assert.Equal("/cards/c1", made.Headers.GetValues(Answer.GoHeader).Single());

        string folder = Path.Combine(page.Folder, "written");
        MadeCard written = MakeCard.Run(new()
        {
            Plan = Asked, MayShrinkCells = true, MayFitToCard = true, OutputFolder = folder,
            Extras = new() { SplitsDrawing = true, PointerPercent = 2 },
        }).Value;
        Assert.Contains(Plain(Voice.Tell(written.Planned.Burning)), Plain(part.Body!.TextContent), StringComparison.Ordinal);
        Assert.Contains(Plain(Voice.Tell(written.Planned.Size)), Plain(part.Body!.TextContent), StringComparison.Ordinal);
        Assert.Equal(written.Plan.Cells.Count, part.QuerySelectorAll("svg.preview > g > title").Length);

        using ZipArchive zip = new(new MemoryStream(
            await page.Client.GetByteArrayAsync(page.At("/cards/c1/files.zip?split-drawing=on&pointer-power=2"))));
        string[] names = [.. Directory.EnumerateFiles(folder, "*", SearchOption.AllDirectories)
            .Select(path => Path.GetRelativePath(folder, path))];
        Assert.True(names.Length > 30, "every setting has a drawing");
        Assert.Equal(names.Select(name => $"card-0/{name}").Order(), zip.Entries.Select(entry => entry.FullName).Order());
        foreach (string name in names)
        {
            using MemoryStream content = new();
            using (Stream packed = zip.GetEntry($"card-0/{name}")!.Open()) await packed.CopyToAsync(content);
            Assert.Equal(File.ReadAllBytes(Path.Combine(folder, name)), content.ToArray());
        }
    }

    [Theory]
    [InlineData("plan.json", "application/json", "card-0-plan.json")]
    [InlineData("card.svg", "image/svg+xml", "card-0.svg")]
    [InlineData("settings.csv", "text/csv", "card-0-settings.csv")]
    [InlineData("settings.html", "text/html", "card-0-settings.html")]
    [InlineData("preview.png", "image/png", "card-0-preview.png")]
    [InlineData("card.gcode", "text/plain", "card-0.gcode")]
    [InlineData("outline.gcode", "text/plain", "card-0-outline.gcode")]
    public async Task Each_file_comes_by_itself_under_a_name_of_its_own(string name, string type, string shown)
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage made = await page.Post("/cards", Birch);
        using HttpResponseMessage answer = await page.Client.GetAsync(page.At($"/cards/c1/files/{name}"));
        Assert.Equal(type, answer.Content.Headers.ContentType!.MediaType);
        Assert.Equal(("attachment", shown),
            (answer.Content.Headers.ContentDisposition!.DispositionType, answer.Content.Headers.ContentDisposition.FileName));
        string folder = Path.Combine(page.Folder, "written");
        Assert.False(MakeCard.Run(new() { Plan = Asked, MayShrinkCells = true, MayFitToCard = true, OutputFolder = folder }).IsRefused);
        Assert.Equal(File.ReadAllBytes(Path.Combine(folder, name)), await answer.Content.ReadAsByteArrayAsync());
    }

    [Theory]
    [InlineData("/cards/c1/files/frame.pdf")]
    [InlineData("/cards/c1/files/archive.db")]
    [InlineData("/cards/c1/files/..%2f..%2farchive.db")]
    [InlineData("/cards/c1/files/by-setting")]
    [InlineData("/cards/c2")]
    [InlineData("/cards/c2/state")]
    [InlineData("/cards/c2/files/plan.json")]
    [InlineData("/cards/c2/files.zip")]
    [InlineData("/cards/c0")]
    [InlineData("/cards/c99999999999999999999")]
    public async Task What_is_not_there_is_not_found(string path)
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage made = await page.Post("/cards", Birch);
        using HttpResponseMessage answer = await page.Client.GetAsync(page.At(path));
        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    /// <summary>Twelve browsers press the button at once.</summary>
    [Fact]
    public async Task Every_card_gets_a_number_of_its_own()
    {
        await using ServedPage page = await ServedPage.Start();
        HttpResponseMessage[] made = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => page.Post("/cards", Birch)));
        Assert.Equal(12, made.Select(answer => answer.Headers.GetValues(Answer.GoHeader).Single()).Distinct().Count());
        foreach (HttpResponseMessage answer in made) answer.Dispose();
        CardEntry[] cards = [.. page.Archive.Find(new()).Value.Cards];
        Assert.Equal(Enumerable.Range(0, 12), cards.Select(card => card.Number).Order());
    }

    [Fact]
    public async Task What_is_typed_rules_and_what_is_not_stands_in_its_field_in_grey()
    {
        await using ServedPage page = await ServedPage.Start();
        (_, IHtmlDocument chosen) = await Follow(page, Birch);
        Assert.NotEqual("", Taken(chosen, "power"));
        (HttpStatusCode code, IHtmlDocument part) = await Follow(
            page, With(("power", "60:100:3"), ("speed", "2,4,8mm/s"), ("cell", "7"), ("passes", "2")));
        Assert.Equal(HttpStatusCode.OK, code);
        Assert.Equal(9, part.QuerySelectorAll("svg.preview > g > title").Length);
        Assert.Equal(("60, 80, 100 %", "120, 240, 480 mm/min", "2", "7 mm"),
            (Taken(part, "power"), Taken(part, "speed"), Taken(part, "passes"), Taken(part, "cell")));
    }

    private static string Taken(IHtmlDocument part, string name) => Plain(part.QuerySelector($"[data-taken={name}]")!.TextContent);

    [Fact]
    public async Task What_to_mind_stands_before_the_button()
    {
        await using ServedPage page = await ServedPage.Start();
        (_, IHtmlDocument part) = await Follow(page,
            With(("material", "galvanised steel"), ("process", "engrave"), ("power", "20:80:4"), ("speed", "500:2000:4")));
        string text = part.Body!.InnerHtml;
        int zinc = text.IndexOf("zinc", StringComparison.Ordinal), cautions = text.IndexOf("class=\"cautions\"", StringComparison.Ordinal),
            button = text.IndexOf("<button", StringComparison.Ordinal);
        Assert.True(zinc > 0 && cautions > zinc && button > cautions, $"{zinc} {cautions} {button}");
    }

    [Fact]
    public async Task A_dangerous_material_is_refused_until_its_danger_is_repeated()
    {
        await using ServedPage page = await ServedPage.Start();
        (string, string)[] pvc = With(("material", "PVC"), ("power", "20:80:4"), ("speed", "500:2000:4"));
        (HttpStatusCode code, IHtmlDocument part) = await Follow(page, pvc);
        Assert.Equal((HttpStatusCode.UnprocessableEntity, Codes.MaterialDangerous), (code, part.QuerySelector(".code")!.TextContent));
        Assert.Null(part.QuerySelector("button"));
        Assert.Equal("#accept-risk", part.QuerySelector("a")!.GetAttribute("href"));
        using HttpResponseMessage refused = await page.Post("/cards", pvc);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Empty(page.Archive.Find(new()).Value.Cards);

        (code, part) = await Follow(page, [.. pvc, ("accept-risk", "PVC gives off hydrogen chloride")]);
        Assert.Equal(HttpStatusCode.OK, code);
        Assert.Contains("You accepted this risk", part.QuerySelector(".warnings")!.TextContent, StringComparison.Ordinal);
        using HttpResponseMessage made = await Press(page, part);
        Assert.Equal("/cards/c1", made.Headers.GetValues(Answer.GoHeader).Single());
        Assert.Contains("You accepted this risk", await page.Text("/cards/c1"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("power", "20:10:5", "#power")]
    [InlineData("power", "<script>alert(1)</script>", "#power")]
    [InlineData("speed", "10 apples", "#speed")]
    [InlineData("cell", "1", "#cell")]
    [InlineData("cell", "8,5", "#cell")]
    [InlineData("card", "20", "#card")]
    [InlineData("thickness", "-3", "#thickness")]
    [InlineData("watts", "1e99", "#watts")]
    [InlineData("frame", "a0", "#frame")]
    [InlineData("powered-z", "5:20", "#powered-z")]
    [InlineData("beam-mode", "fast", "#beam-mode")]
    [InlineData("seed", "1.5", "#seed")]
    public async Task A_field_that_cannot_be_taken_is_refused_with_the_way_to_it(string name, string value, string way)
    {
        await using ServedPage page = await ServedPage.Start();
        (HttpStatusCode code, IHtmlDocument part) = await Follow(page, With((name, value)));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, code);
        Assert.Equal(way, part.QuerySelector("a")!.GetAttribute("href"));
        Assert.Empty(part.QuerySelectorAll("script, button"));
        using HttpResponseMessage refused = await page.Post("/cards", With((name, value)));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Empty(page.Archive.Find(new()).Value.Cards);
    }

    [Theory]
    [InlineData("<script>alert(1)</script>")]
    [InlineData("\"><img src=x onerror=alert(1)>")]
    [InlineData("../../../../etc/passwd")]
    [InlineData("/etc/passwd")]
    [InlineData("x.json")]
    public async Task A_text_is_text_and_nothing_else(string text)
    {
        await using ServedPage page = await ServedPage.Start();
        (string, string)[] fields =
            With(("material", $"birch plywood {text}"), ("name", text), ("batch", text), ("title", text), ("air-pressure", text));
        (HttpStatusCode code, IHtmlDocument part) = await Follow(page, fields);
        Assert.Equal(HttpStatusCode.OK, code);
        Assert.Empty(part.QuerySelectorAll("script, img"));
        using HttpResponseMessage made = await Press(page, part);
        IHtmlDocument card = await page.Page("/cards/c1");
        Assert.Empty(card.QuerySelectorAll("img, script:not([src])"));
        Assert.Equal(text, card.QuerySelector("h1")!.TextContent);
        IHtmlDocument form = await page.Page($"{MakePage.Path}?{Query(fields)}");
        Assert.Equal(text, form.QuerySelector("#batch")!.GetAttribute("value"));
        Assert.Empty(form.QuerySelectorAll("img, script:not([src])"));
    }

    [Fact]
    public async Task Before_anything_is_typed_it_says_how_to_begin()
    {
        await using ServedPage page = await ServedPage.Start();
        IHtmlDocument form = await page.Page(MakePage.Path);
        Assert.Contains(Voice.Say("web.make.begin"), form.QuerySelector("#planned")!.TextContent, StringComparison.Ordinal);
        Assert.Null(form.QuerySelector(".refusal"));
        Assert.NotNull(form.QuerySelector("details[open] #watts"));
    }

    [Fact]
    public async Task A_machine_and_a_material_are_kept_on_the_spot_and_chosen_from_then_on()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage made = await page.Post("/cards", [.. Birch, ("keep-machine", "on"), ("keep-material", "on")]);
        Assert.Equal("/cards/c1", made.Headers.GetValues(Answer.GoHeader).Single());
        IHtmlDocument form = await page.Page(MakePage.Path);
        Assert.Equal("bench diode", form.QuerySelector("#machine option[selected]")!.GetAttribute("value"));
        Assert.Equal("birch plywood", form.QuerySelector("datalist option")!.GetAttribute("value"));

        (HttpStatusCode code, IHtmlDocument part) = await Follow(page, ("machine", "bench diode"), ("material", "Birch plywood"),
            ("process", "cut"));
        Assert.Equal(HttpStatusCode.OK, code);
        Assert.Equal("3 mm", Taken(part, "thickness"));
        // Another machine of the same name is not put in its place.
        using HttpResponseMessage other = await page.Post("/cards", With(("watts", "20"), ("keep-machine", "on")));
        Assert.Contains(Codes.ProfileExists, await other.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        Assert.Single(page.Archive.Find(new()).Value.Cards);
    }

    [Fact]
    public async Task Speeds_follow_the_unit_that_is_chosen()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpResponseMessage chosen = await page.Post("/machines/units", ("unit", "mm/s"));
        (_, IHtmlDocument part) = await Follow(page, With(("power", "60:100:3"), ("speed", "2,4,8mm/s")));
        Assert.Equal("2, 4, 8 mm/s", Taken(part, "speed"));
        (HttpStatusCode code, _) = await Follow(page, With(("power", "60:100:3"), ("speed", "2,4,8")));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, code);
    }

    [Fact]
    public async Task A_focus_ladder_and_a_paper_mask_are_planned_too()
    {
        await using ServedPage page = await ServedPage.Start();
        (HttpStatusCode ladder, _) = await Follow(page, With(
            ("process", "engrave"), ("kind", "on"), ("power", "30,60"), ("speed", "2000"), ("focus-offset", "-2:2:9")));
        Assert.Equal(HttpStatusCode.OK, ladder);
        using HttpResponseMessage made = await page.Post("/cards", With(
            ("process", "engrave"), ("material", "clear acrylic"), ("frame", "a4"), ("power", "20:80:4"), ("speed", "500:2000:4")));
        byte[] pdf = await page.Client.GetByteArrayAsync(page.At("/cards/c1/files/frame.pdf"));
        Assert.Equal("%PDF"u8.ToArray(), pdf[..4]);
    }

    private static string Plain(string text) => text.Replace('\u00a0', ' ').Replace('−', '-');
}
