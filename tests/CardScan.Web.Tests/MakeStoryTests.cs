using Microsoft.Playwright;

namespace CardScan.Web.Tests;

/// <summary>Making a card in a real browser.</summary>
public class MakeStoryTests(Browser browser) : IClassFixture<Browser>
{
    [InstalledFact("chromium")]
    public async Task A_card_is_described_shown_made_and_burned()
    {
        await using ServedPage page = await ServedPage.Start();
        IPage window = await browser.Window();
        await window.GotoAsync(page.Server.NewOpeningLink());
        await Browser.At(window, $"{page.Server.Address}/");
        await window.GotoAsync($"{page.Server.Address}{MakePage.Path}");
        await Browser.CheckAccess(window, "nothing typed");
        await window.Locator("#name").FillAsync("bench diode");
        await window.Locator("#watts").FillAsync("10");
        await window.Locator("#keep-machine").CheckAsync();
        await window.Locator("#material").FillAsync("birch plywood");
        await window.Locator("svg.preview").WaitForAsync();
        // What is taken for an empty field stands in it.
        Assert.Contains("mm/min", await window.Locator("#speed").GetAttributeAsync("placeholder"), StringComparison.Ordinal);
        await Browser.CheckAccess(window, "a card");

        await window.Locator("#material").FillAsync("PVC");
        await window.Locator(".refusal").WaitForAsync();
        await Browser.CheckAccess(window, "a refusal");
        // The way out opens the fold that holds the field.
        await window.Locator("a[href='#accept-risk']").ClickAsync();
        await Assertions.Expect(window.Locator("#accept-risk")).ToBeVisibleAsync();
        await window.Locator("#material").FillAsync("birch plywood");
        await window.Locator("svg.preview").WaitForAsync();
        // Enter in a field makes no card.
        await window.Locator("#thickness").FillAsync("3");
        await window.Locator("#thickness").PressAsync("Enter");
        Assert.Equal(MakePage.Path, new Uri(window.Url).AbsolutePath);

        await window.Locator("form[action='/cards'] button").ClickAsync();
        await Browser.At(window, "**/cards/c1");
        await window.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.card.do", ("what", "burned")), Exact = true }).ClickAsync();
        await window.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.card.do", ("what", "burned-not")) }).WaitForAsync();
        await window.GetByText(Voice.Say("web.card.words")).ClickAsync();
        await window.Locator("#text").FillAsync("lens cleaned");
        await window.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.card.note-add") }).ClickAsync();
        await Assertions.Expect(window.Locator(".notes .text")).ToHaveTextAsync("lens cleaned");
        await Assertions.Expect(window.Locator("#text")).ToHaveValueAsync("");
        await Browser.CheckAccess(window, "a card that is burned");

        IDownload zip = await window.RunAndWaitForDownloadAsync(() =>
            window.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.card.zip") }).ClickAsync());
        Assert.Equal("card-0.zip", zip.SuggestedFilename);
    }

    /// <summary>
    /// Whoever presses faster than the card beside the form follows, or after its answer was lost on the way, gets what was typed, not
    /// what was shown.
    /// </summary>
    [InstalledTheory("chromium")]
    [InlineData("at once")]
    [InlineData("under the finger")]
    [InlineData("lost")]
    public async Task What_was_typed_last_is_made_however_fast_the_button_is_pressed(string typed)
    {
        const string Type = "const field = document.getElementById('thickness'); field.value = '3';"
            + " field.dispatchEvent(new Event('input', { bubbles: true }));";
        const string Button = "form[action='/cards'] button";
        await using ServedPage page = await ServedPage.Start();
        IPage window = await browser.Window();
        await window.GotoAsync(page.Server.NewOpeningLink());
        await Browser.At(window, $"{page.Server.Address}/");
        await window.GotoAsync($"{page.Server.Address}{MakePage.Path}");
        foreach ((string field, string value) in new[] { ("name", "bench diode"), ("watts", "10"), ("material", "birch plywood") })
            await window.Locator($"#{field}").FillAsync(value);
        await window.Locator(Button).WaitForAsync();
        await window.Locator("[aria-busy]").WaitForAsync(new() { State = WaitForSelectorState.Detached });
        if (typed == "under the finger")
        {
            await window.Locator(Button).HoverAsync();
            await window.Mouse.DownAsync();
            Task<IResponse> followed = window.WaitForResponseAsync(
                response => response.Url.Contains("thickness=3", StringComparison.Ordinal));
            await window.EvaluateAsync(Type);
            await followed;
            await window.Mouse.UpAsync();
        }
        else if (typed == "lost")
        {
            await window.RouteAsync("**/cards/new/card?*", route => route.AbortAsync());
            await window.EvaluateAsync(Type);
            await window.Locator("#lost").WaitForAsync();
            await window.UnrouteAsync("**/cards/new/card?*");
            await window.Locator(Button).ClickAsync();
        }
        else
        {
            await window.EvaluateAsync($"{Type} document.querySelector(\"{Button}\").click();");
        }

        await Browser.At(window, "**/cards/c1");
        Assert.Equal(3, page.Archive.Show("c1").Value.Cards[0].Card.ThicknessMm);
    }
}
