using CardScan.Model;
using Microsoft.Playwright;

namespace CardScan.Web.Tests;

/// <summary>A workshop as its members see it. <c>CARDSCAN_SHOW_PAGES</c> names a folder for pictures.</summary>
public class MembersStoryTests(Browser browser) : IClassFixture<Browser>
{
    [InstalledTheory("chromium")]
    [InlineData(360, ColorScheme.Light)]
    [InlineData(1280, ColorScheme.Dark)]
    public async Task Somebody_joins_invites_others_and_sees_who_did_what(int width, ColorScheme scheme)
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start("photos/birch-engrave.plan.json");
        Visitor ben = await shop.Join("Ben Okafor-Lindqvist", MemberRole.Add);
        (await ben.Post("/cards/c1/notes", ("text", "masked with paper tape"))).Dispose();
        IPage window = await browser.Window(width, 900, scheme);
        await window.GotoAsync(shop.Server.Address);
        await Look(window, $"{width}-outside");
        await window.GotoAsync(shop.Server.Address + shop.Invite(MemberRole.Keep));
        await Look(window, $"{width}-invited");
        await window.GetByRole(AriaRole.Button, new() { Name = "Join" }).ClickAsync();
        await window.GetByText("That is no name that others could tell you by").WaitForAsync();
        await window.GetByLabel("Your name").FillAsync("Kim");
        await window.GetByRole(AriaRole.Button, new() { Name = "Join" }).ClickAsync();
        await Browser.At(window, $"{shop.Server.Address}/");
        await Look(window, $"{width}-today");

        await window.GetByRole(AriaRole.Link, new() { Name = "Kim" }).ClickAsync();
        await window.GetByRole(AriaRole.Button, new() { Name = "Show the code" }).ClickAsync();
        await window.Locator("svg.code").WaitForAsync();
        await Look(window, $"{width}-me");

        await window.GetByRole(AriaRole.Link, new() { Name = "Members" }).ClickAsync();
        await window.GetByLabel("How many may join by it").FillAsync("30");
        await window.GetByRole(AriaRole.Button, new() { Name = "Make an invitation" }).ClickAsync();
        await window.GetByText("30 people can join by this link").WaitForAsync();
        await window.GetByText("To look and add, for 30 people").WaitForAsync();
        await window.GetByLabel("What Ben Okafor-Lindqvist may do").SelectOptionAsync("look");
        await window.GetByRole(AriaRole.Button, new() { Name = "Change" }).ClickAsync();
        await Assertions.Expect(window.GetByLabel("What Ben Okafor-Lindqvist may do")).ToHaveValueAsync("look");
        await Look(window, $"{width}-members");
        await window.GotoAsync($"{shop.Server.Address}/record");
        await window.GetByText("Kim gave another role").WaitForAsync();
        await Look(window, $"{width}-record");
        await window.GotoAsync($"{shop.Server.Address}/cards/c1");
        await window.GetByText("Who did what").ClickAsync();
        await window.GetByText("Ben Okafor-Lindqvist wrote a note on c1").WaitForAsync();
    }

    /// <summary>What somebody may not do is not offered.</summary>
    [InstalledFact("chromium")]
    public async Task Somebody_who_may_look_sees_no_button_that_would_be_refused()
    {
        await using ServedWorkshop shop = await ServedWorkshop.Start("photos/birch-engrave.plan.json");
        IPage window = await browser.Window();
        await window.GotoAsync(shop.Server.Address + shop.Invite(MemberRole.Look));
        await window.GetByLabel("Your name").FillAsync("Lu");
        await window.GetByRole(AriaRole.Button, new() { Name = "Join" }).ClickAsync();
        await Browser.At(window, $"{shop.Server.Address}/");
        foreach (string path in new[] { "/", "/archive", "/cards/c1", "/machines", "/me" })
        {
            await window.GotoAsync(shop.Server.Address + path);
            string[] offered = await window.EvaluateAsync<string[]>(
                """
                [...document.querySelectorAll("form[data-post]")].filter(each => each.checkVisibility())
                    .map(each => each.getAttribute("action"))
                """);
            Assert.All(offered, each => Assert.Matches("^/machines/(units|default)$|^/me/", each));
            Assert.False(await window.GetByRole(AriaRole.Link, new() { Name = "Make a card" }).IsVisibleAsync());
            await Look(window, $"look{path.Replace('/', '-')}");
        }
    }

    private static async Task Look(IPage window, string name)
    {
        await Browser.CheckAccess(window, name);
        if (Environment.GetEnvironmentVariable("CARDSCAN_SHOW_PAGES") is { } shown)
            await window.ScreenshotAsync(new() { Path = Path.Combine(shown, $"members-{name}.png"), FullPage = true });
        Assert.True(await window.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"), $"{name} is too wide");
    }
}
