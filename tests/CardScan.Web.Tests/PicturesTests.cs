using System.Net;
using System.Runtime.CompilerServices;
using Microsoft.Playwright;

namespace CardScan.Web.Tests;

/// <summary>
/// The way of a new user, from the empty page to a result, and its pictures for docs/guide.md: made again with
/// <c>CARDSCAN_WRITE_PICTURES=1</c>.
/// </summary>
public class PicturesTests(Browser browser) : IClassFixture<Browser>
{
    /// <summary>No picture of the guide is larger, bytes.</summary>
    private const int MostBytes = 150_000;

    [InstalledFact("chromium")]
    public async Task A_new_user_tries_the_demo_card_and_a_phone_is_guided()
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        await using (PageServer server = await ServedPage.StartIn(folder, request => request with
        {
            PhoneAddress = IPAddress.Loopback, PhoneHost = Browser.PhoneHost,
        }))
        {
            IPage computer = await browser.Window(1100, 800);
            await computer.GotoAsync(server.NewOpeningLink());
            await computer.Locator(".demo img").WaitForAsync();
            await Take(computer, "page-today");
            await computer.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.demo.do") }).ClickAsync();
            await Browser.At(computer, "**/photograph");
            await computer.GetByRole(AriaRole.Link, new() { Name = Voice.Say("web.photo.result") }).ClickAsync();
            await Browser.At(computer, "**/readings/r1");
            await ZoomAndTouch(computer);
            await Take(computer, "page-result");
            await computer.GotoAsync($"{server.Address}/phones");
            await computer.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.phones.open") }).ClickAsync();
            await computer.Locator("svg.code").WaitForAsync();
            await Take(computer, "page-phones");

            ServedPage.Keep(folder, ServedPage.Data("cut/plan.json"));
            IPage phone = await browser.Window(390, 844, isPhone: true);
            await phone.GotoAsync(server.PhoneLink!);
            await Browser.At(phone, "**/photograph");
            await phone.Locator("input[capture]").SetInputFilesAsync(ServedPage.Data("photos/birch-corners-covered.jpg"));
            await phone.Locator("li.refused svg.shot .missing").First.WaitForAsync();
            await ScrollTo(phone, "li.refused");
            await Take(phone, "page-refused");
            await phone.Locator("input[capture]").SetInputFilesAsync(ServedPage.Data("cut/lime-cut-left.jpg"));
            await phone.Locator("svg.sides").WaitForAsync();
            await ScrollTo(phone, ".result");
            await Take(phone, "page-cut");
        }

        Directory.Delete(folder, recursive: true);
    }

    /// <summary>The photo is made larger by the keyboard alone and fits again; then a cell is touched.</summary>
    private static async Task ZoomAndTouch(IPage page)
    {
        const string width = "document.querySelector('svg.photo').getBoundingClientRect().width";
        double before = await page.EvaluateAsync<double>(width);
        await page.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.reading.zoom", ("to", "larger")) }).FocusAsync();
        await page.Keyboard.PressAsync("Enter");
        Assert.Equal(1.5, await page.EvaluateAsync<double>(width) / before, 0.05);
        Assert.True(await page.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"));
        for (int i = 0; i < 3; i++)
            await page.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.reading.zoom", ("to", "smaller")) }).PressAsync("Enter");
        Assert.Equal(before, await page.EvaluateAsync<double>(width), 0.5);
        await page.Locator("a.cell").Nth(7).ClickAsync();
        await page.Locator("#cell .one-cell").WaitForAsync();
        await ScrollTo(page, "#photo");
    }

    private static Task ScrollTo(IPage page, string selector) =>
        page.Locator(selector).First.EvaluateAsync("place => { place.scrollIntoView(); scrollBy(0, -12); }");

    private static async Task Take(IPage page, string name)
    {
        await Browser.CheckAccess(page, name);
        byte[] picture = await page.ScreenshotAsync(new() { Type = ScreenshotType.Jpeg, Quality = 82 });
        Assert.InRange(picture.Length, 1000, MostBytes);
        if (Environment.GetEnvironmentVariable("CARDSCAN_WRITE_PICTURES") == "1")
            await File.WriteAllBytesAsync(Path.Combine(Pictures(), $"{name}.jpg"), picture);
    }

    private static string Pictures([CallerFilePath] string here = "") =>
        Path.Combine(Path.GetDirectoryName(here)!, "..", "..", "docs", "pictures");
}
