using Microsoft.Playwright;

namespace CardScan.Web.Tests;

/// <summary>The pages in a real browser: by keyboard alone, with a connection that breaks, with what a stranger sent.</summary>
public class BehaviourTests(Browser browser) : IClassFixture<Browser>
{
    private const int MostKeys = 120;

    /// <summary>Open, photograph, see the result, touch a cell, move the slider, look up, search, compare: no mouse.</summary>
    [InstalledFact("chromium")]
    public async Task Everything_goes_by_keyboard_with_a_focus_that_is_seen()
    {
        await using ServedPage page = await ServedPage.Start("photos/birch-engrave.plan.json", "second/plan.json");
        IPage window = await Open(page);

        await Press(window, "a.button.large[href='/photograph']");
        await Browser.At(window, "**/photograph");
        await FocusOn(window, "input[data-photos]");
        IFileChooser chooser = await Browser.Asked(window, () => window.Keyboard.PressAsync("Enter"));
        await chooser.SetFilesAsync(ServedPage.Data("photos/birch-engrave.jpg"));
        Assert.Equal("polite", await window.Locator("#sending").GetAttributeAsync("aria-live"));
        Assert.Equal("polite", await window.Locator("[data-live]").GetAttributeAsync("aria-live"));
        await window.Locator(".result .figures").WaitForAsync();

        await Press(window, ".result a.button");
        await Browser.At(window, "**/readings/r1");
        string before = await window.Locator("#answer").InnerTextAsync();
        await FocusOn(window, "input[name=full]");
        await window.Keyboard.PressAsync("Home");
        await Assertions.Expect(window.Locator("#answer")).Not.ToHaveTextAsync(before);
        Assert.Equal("polite", await window.Locator("#answer").GetAttributeAsync("aria-live"));
        await FocusOn(window, "a.cell >> nth=3", isDrawn: true);
        await window.Keyboard.PressAsync("Enter");
        await window.Locator("#cell .one-cell").WaitForAsync();
        Assert.Equal("polite", await window.Locator("#cell").GetAttributeAsync("aria-live"));
        // The focus is where it was: the next cell is one key away.
        Assert.True(await window.EvaluateAsync<bool>("document.activeElement.matches('a.cell')"));

        await Press(window, ".bar a[href='/settings']");
        await Browser.At(window, "**/settings");
        await FocusOn(window, "input[name=text]");
        await window.Keyboard.TypeAsync("nothing of the kind");
        await window.GetByText(Voice.Say("book.none")).WaitForAsync();
        await Press(window, ".bar a[href='/archive']");
        await Browser.At(window, "**/archive");
        await FocusOn(window, "input[name=text]");
        await window.Keyboard.TypeAsync("birch");
        await Assertions.Expect(window.Locator("#found .entries li")).ToHaveCountAsync(2);
        await page.Send("second.jpg", File.ReadAllBytes(ServedPage.Data("second/birch-second.jpg")));
        await page.Photos();
        await Press(window, ".bar a[href='/']");
        await Browser.At(window, "**/");
        await Press(window, "a[href='/compare']");
        await Browser.At(window, "**/compare");
        await Press(window, "form button");
        await Browser.At(window, "**/compare?first=*");
        await window.Locator("main h1").WaitForAsync();
    }

    [InlineData(ReducedMotion.Reduce, "none")]
    [InlineData(ReducedMotion.NoPreference, "appear")]
    [InstalledTheory("chromium")]
    public async Task Nothing_moves_where_that_is_asked_for(ReducedMotion motion, string name)
    {
        await using ServedPage page = await ServedPage.Start();
        IPage window = await Open(page);
        await window.EmulateMediaAsync(new() { ReducedMotion = motion });
        Assert.Equal(name, await window.EvaluateAsync<string>("getComputedStyle(document.querySelector('.fresh')).animationName"));
    }

    [InstalledFact("chromium")]
    public async Task A_connection_that_breaks_is_told_and_everything_goes_on_by_itself()
    {
        await using ServedPage page = await ServedPage.Start("photos/birch-engrave.plan.json");
        using HttpResponseMessage opened = await page.Post("/phones/open");
        IPage phone = await browser.Window(390, 844, isPhone: true);
        await phone.GotoAsync(page.Server.PhoneLink!);
        await Browser.At(phone, "**/photograph");
        await phone.Context.SetOfflineAsync(true);
        await phone.Locator("input[capture]").SetInputFilesAsync(ServedPage.Data("photos/birch-engrave.jpg"));
        await phone.GetByText(Voice.Say("web.sending.again")).WaitForAsync();
        await phone.Context.SetOfflineAsync(false);
        await phone.Locator(".result .figures").WaitForAsync();
        await Assertions.Expect(phone.Locator("#sending li")).ToHaveCountAsync(0);
        await Assertions.Expect(phone.Locator("#lost")).ToBeHiddenAsync();
        Assert.Single(await page.Photos());
    }

    /// <summary>A phone that is locked hears nothing; when it is unlocked it asks for everything anew.</summary>
    [InstalledFact("chromium")]
    public async Task A_phone_that_was_locked_sees_what_happened_meanwhile()
    {
        await using ServedPage page = await ServedPage.Start("photos/birch-engrave.plan.json");
        using HttpResponseMessage opened = await page.Post("/phones/open");
        IPage phone = await browser.Window(390, 844, isPhone: true);
        await phone.GotoAsync(page.Server.PhoneLink!);
        await Browser.At(phone, "**/photograph");
        await Show(phone, "hidden");
        await phone.EvaluateAsync("dispatchEvent(new PageTransitionEvent('pagehide', { persisted: true }))");
        await page.Send("a.jpg", File.ReadAllBytes(ServedPage.Data("photos/birch-engrave.jpg")));
        await page.Photos();
        await Task.Delay(500);
        Assert.Equal(0, await phone.Locator(".result").CountAsync());
        await Show(phone, "visible");
        await phone.EvaluateAsync("dispatchEvent(new PageTransitionEvent('pageshow', { persisted: true }))");
        await phone.Locator(".result .figures").WaitForAsync();
    }

    [InstalledFact("chromium")]
    public async Task A_server_that_was_killed_and_started_anew_asks_for_the_code_and_gets_the_photos_that_waited()
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        ServedPage.Keep(folder, ServedPage.Data("photos/birch-engrave.plan.json"));
        int port = FreePort();
        ServedProcess first = await ServedProcess.Start(folder, "--port", $"{port}");
        IPage window = await browser.Window();
        await window.GotoAsync(first.Link);
        await Browser.At(window, $"http://127.0.0.1:{port}/");
        await window.GotoAsync($"http://127.0.0.1:{port}/photograph");
        await first.Kill();
        first.Dispose();
        await window.Locator("#lost").WaitForAsync();
        await window.Locator("input[multiple]").SetInputFilesAsync(ServedPage.Data("photos/birch-engrave.jpg"));
        await window.GetByText(Voice.Say("web.sending.again")).WaitForAsync();

        using ServedProcess second = await ServedProcess.Start(folder, "--port", $"{port}");
        await window.GetByText(Voice.Say("web.sending.outside")).WaitForAsync();
        // Another page of the same browser is let in, as by the code.
        IPage other = await window.Context.NewPageAsync();
        await other.GotoAsync(second.Link);
        await window.Locator(".result .figures").WaitForAsync();
        await second.Kill();
        Directory.Delete(folder, recursive: true);
    }

    [InstalledFact("chromium")]
    public async Task What_a_stranger_sent_runs_nothing_and_loads_nothing()
    {
        await using ServedPage page = await ServedPage.Start();
        (System.Net.HttpStatusCode code, string text) = await page.Computer.Deliver("a.zip", Stranger.Bundle(page.Folder), "/bundles");
        Assert.True(code == System.Net.HttpStatusCode.OK, text);
        IPage window = await Open(page);
        List<string> ran = [];
        window.Dialog += async (_, dialog) =>
        {
            ran.Add($"dialog {dialog.Message}");
            await dialog.DismissAsync();
        };
        window.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(page.Server.Address, StringComparison.Ordinal)
                && !request.Url.StartsWith("data:", StringComparison.Ordinal)) ran.Add(request.Url);
        };
        window.Console += (_, said) =>
        {
            // The browser's own page around a picture has a style of its own.
            if (said.Text.Contains("Content Security Policy", StringComparison.Ordinal)
                && !window.Url.EndsWith(".jpg", StringComparison.Ordinal))
                ran.Add($"{window.Url} {said.Text}");
        };
        string query = $"text={Uri.EscapeDataString(Stranger.Markup)}";
        foreach (string path in new[]
        {
            "/", "/photograph", "/settings", $"/settings?{query}", "/archive", $"/archive?{query}", "/compare",
            "/compare?first=r1&second=r1",
            "/readings/r1", "/cards/c1", "/readings/r1/photos/0.jpg",
        })
        {
            await window.GotoAsync(page.Server.Address + path);
            Assert.True(await window.EvaluateAsync<bool>("getComputedStyle(document.body).display !== 'none'"), path);
        }

        Assert.Empty(ran);
    }

    /// <summary>The page, its style, its script and its icon: no more than 100 KB, and nothing else is asked for.</summary>
    [Fact]
    public async Task The_first_page_weighs_little()
    {
        await using ServedPage page = await ServedPage.Start("photos/birch-engrave.plan.json");
        int bytes = (await page.Client.GetByteArrayAsync(page.At("/"))).Length;
        string[] parts = [.. (await page.Page("/")).QuerySelectorAll("[src], link[href]")
            .Select(part => part.GetAttribute("src") ?? part.GetAttribute("href")!)];
        Assert.Equal(3, parts.Length);
        foreach (string part in parts) bytes += (await page.Client.GetByteArrayAsync(page.At(part))).Length;
        Assert.InRange(bytes, 1000, 100_000);
    }

    private async Task<IPage> Open(ServedPage page)
    {
        IPage window = await browser.Window();
        await window.GotoAsync(page.Server.NewOpeningLink());
        await Browser.At(window, $"{page.Server.Address}/");
        return window;
    }

    private static async Task Press(IPage window, string selector)
    {
        await FocusOn(window, selector);
        await window.Keyboard.PressAsync("Enter");
    }

    /// <summary>Goes there with the tab key, and sees where it is.</summary>
    private static async Task FocusOn(IPage window, string selector, bool isDrawn = false)
    {
        ILocator wanted = window.Locator(selector).First;
        await wanted.WaitForAsync(new() { State = WaitForSelectorState.Attached });
        for (int i = 0; i < MostKeys; i++)
        {
            await window.Keyboard.PressAsync("Tab");
            if (!await wanted.EvaluateAsync<bool>("wanted => wanted === document.activeElement")) continue;
            // Around a hidden field its label has the ring; a cell of the drawing has a line of its own.
            string seen = isDrawn
                ? "e => { const style = getComputedStyle(e.querySelector('rect')); "
                    + "return style.strokeWidth !== '0px' && style.stroke !== 'none'; }"
                : "e => [e, e.closest('label')].filter(each => each).map(each => getComputedStyle(each))"
                    + ".some(style => style.outlineStyle === 'solid' && parseFloat(style.outlineWidth) >= 2)";
            Assert.True(await wanted.EvaluateAsync<bool>(seen), $"{selector} has the focus and does not show it");
            return;
        }

        Assert.Fail($"{selector} is not to be reached by keyboard on {window.Url}");
    }

    private static Task Show(IPage window, string state) => window.EvaluateAsync(
        $"Object.defineProperty(document, 'visibilityState', {{ value: '{state}', configurable: true }}); "
        + "document.dispatchEvent(new Event('visibilitychange'))");

    private static int FreePort()
    {
        using System.Net.Sockets.TcpListener listener = new(System.Net.IPAddress.Loopback, 0);
        listener.Start();
        return ((System.Net.IPEndPoint)listener.LocalEndpoint).Port;
    }
}
