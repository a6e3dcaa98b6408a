using Microsoft.Playwright;

namespace CardScan.Web.Tests;

/// <summary>A server with everything on it that a page can show, for all widths.</summary>
public sealed class FullArchive : IAsyncLifetime
{
    /// <summary>Cards that are planned and not photographed.</summary>
    internal ServedPage Planned { get; private set; } = null!;

    /// <summary>Cards with readings, a machine, a dangerous material, a next card, tags, and a file that is no photo.</summary>
    internal ServedPage Read { get; private set; } = null!;

    public async Task InitializeAsync()
    {
        string[] plans =
            ["cut/plan.json", "photos/birch-engrave.plan.json", "second/plan.json", "photos/coated-metal-engrave.plan.json"];
        (Planned, Read) = (await ServedPage.Start(plans), await ServedPage.Start(plans));
        foreach (string photo in new[]
        {
            "photos/birch-engrave.jpg", "second/birch-second.jpg", "cut/lime-cut-left.jpg", "cut/lime-cut-front.jpg",
        }) await Read.Send(Path.GetFileName(photo), File.ReadAllBytes(ServedPage.Data(photo)));
        await Read.Send("wrong.jpg", [1, 2, 3]);
        await Read.Photos();
        await Post("/machines/machine", ("name", "bench diode"), ("watts", "10"));
        await Post("/machines/material", ("name", "PVC sheet"));
        await Post("/cards/c2/next");
        await Post("/cards/c2/tags", ("tag", "kitchen"));
    }

    public async Task DisposeAsync()
    {
        await Planned.DisposeAsync();
        await Read.DisposeAsync();
    }

    private async Task Post(string path, params (string, string)[] fields)
    {
        using HttpResponseMessage answer = await Read.Post(path, fields);
        Assert.True((int)answer.StatusCode is 200 or 204 or 422, await answer.Content.ReadAsStringAsync());
    }
}

/// <summary>
/// Every page at three widths, in both schemes of colours, on a screen and on paper. <c>CARDSCAN_SHOW_PAGES</c> names a folder for
/// pictures of all of them.
/// </summary>
public class WidthStoryTests(Browser browser, FullArchive archive) : IClassFixture<Browser>, IClassFixture<FullArchive>
{
    private static readonly string[] Paths =
    [
        "/", "/photograph", "/phones", "/readings/r1", "/readings/r3", "/readings/r999", "/settings", "/settings?text=birch",
        "/archive", "/archive?text=nothing+of+the+kind", "/compare", "/compare?first=r1&second=r2",
        MakePage.Path, $"{MakePage.Path}?machine=bench+diode&material=birch+plywood&thickness=3&process=cut", "/cards/c2", "/cards/c5",
        "/machines", "/machines/history", "/machines/carry",
        "/machines/machine", "/machines/machine?name=bench+diode", "/machines/material",
    ];

    [InstalledTheory("chromium")]
    [InlineData(360, ColorScheme.Light)]
    [InlineData(1000, ColorScheme.Dark)]
    [InlineData(2560, ColorScheme.Light)]
    public async Task Every_page_is_open_to_everybody_at_every_width(int width, ColorScheme scheme)
    {
        IPage window = await browser.Window(width, 900, scheme);
        await window.GotoAsync(archive.Planned.Server.NewOpeningLink());
        await Browser.At(window, $"{archive.Planned.Server.Address}/");
        await Look(window, archive.Planned, "/", $"{width}-planned");
        await window.GotoAsync(archive.Read.Server.NewOpeningLink());
        await Browser.At(window, $"{archive.Read.Server.Address}/");
        foreach (string path in Paths) await Look(window, archive.Read, path, $"{width}{NameOf(path)}");
    }

    [InstalledFact("pdftoppm")]
    public async Task Every_page_fits_on_paper()
    {
        IPage window = await browser.Window();
        await window.GotoAsync(archive.Read.Server.NewOpeningLink());
        await Browser.At(window, $"{archive.Read.Server.Address}/");
        foreach (string path in new[]
        {
            "/", "/readings/r1", "/readings/r3", "/settings", "/archive", "/compare?first=r1&second=r2", "/cards/c5",
            "/machines/history", "/machines/carry?from=workshop+diode,+10+W+optical&to=bench+diode",
        })
        {
            await window.GotoAsync(archive.Read.Server.Address + path);
            (string text, int pages) = await Printed.Of(window, Path.Combine(archive.Read.Folder, $"print{NameOf(path)}.pdf"));
            Assert.InRange(pages, 1, 4);
            string title = (await window.Locator("h1").InnerTextAsync()).Replace('\u00a0', ' ');
            Assert.Equal(1, Printed.Count(text, title));
        }
    }

    private static async Task Look(IPage window, ServedPage page, string path, string name)
    {
        await window.GotoAsync(page.Server.Address + path);
        // A form shows all of its fields.
        if (path.StartsWith(MakePage.Path, StringComparison.Ordinal) || path.StartsWith("/cards", StringComparison.Ordinal))
            await window.EvaluateAsync("document.querySelectorAll('details').forEach(each => { each.open = true; })");
        await Browser.CheckAccess(window, name);
        if (Environment.GetEnvironmentVariable("CARDSCAN_SHOW_PAGES") is { } shown)
            await window.ScreenshotAsync(new() { Path = Path.Combine(shown, $"{name}.png"), FullPage = true });
        Assert.True(await window.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"), $"{name} is too wide");
    }

    private static string NameOf(string path) => string.Concat(path.Select(c => char.IsLetterOrDigit(c) ? c : '-'));
}
