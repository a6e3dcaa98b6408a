using System.Net;
using Microsoft.Playwright;
using SixLabors.ImageSharp;
using SixLabors.ImageSharp.PixelFormats;
using ZXing;
using ZXing.Common;

namespace CardScan.Web.Tests;

/// <summary>The whole job in real browsers: a computer's, and a phone's that comes by the code on the computer's screen.</summary>
public class StoryTests(Browser browser) : IClassFixture<Browser>
{
    private static Task<PageServer> Serve(string folder) => ServedPage.StartIn(folder, request => request with
    {
        PhoneAddress = IPAddress.Loopback, PhoneHost = Browser.PhoneHost,
    });

    [InstalledFact("chromium")]
    public async Task A_card_is_photographed_with_a_phone_and_the_result_stands_on_both_screens()
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        ServedPage.Keep(folder, ServedPage.Data("photos/birch-engrave.plan.json"));
        await using PageServer server = await Serve(folder);
        IPage computer = await browser.Window();
        await computer.GotoAsync(server.NewOpeningLink());
        await computer.WaitForURLAsync($"{server.Address}/");
        await computer.GotoAsync($"{server.Address}/phones");
        await computer.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.phones.open") }).ClickAsync();
        string link = Scan(await computer.Locator("svg.code").ScreenshotAsync());
        Assert.StartsWith($"http://{Browser.PhoneHost}:", link, StringComparison.Ordinal);

        IPage phone = await browser.Window(390, 844, isPhone: true);
        await phone.GotoAsync(link);
        await phone.WaitForURLAsync("**/photograph");
        Assert.False(await phone.EvaluateAsync<bool>("isSecureContext"));
        await computer.Locator(".phones li", new() { HasText = "iPhone" }).WaitForAsync();
        // The code on the screen is another one by now.
        Assert.NotEqual(link, Scan(await computer.Locator("svg.code").ScreenshotAsync()));

        await computer.GotoAsync($"{server.Address}/photograph");
        await phone.Locator("input[capture]").SetInputFilesAsync(ServedPage.Data("photos/birch-engrave.jpg"));
        foreach (IPage screen in new[] { phone, computer })
        {
            await screen.Locator(".result .figures").WaitForAsync();
            await Browser.CheckAccess(screen, "result in the list");
        }

        await computer.GetByRole(AriaRole.Link, new() { Name = Voice.Say("web.photo.result") }).ClickAsync();
        await computer.WaitForURLAsync("**/readings/r1");
        string before = await computer.Locator("#answer").InnerTextAsync();
        await computer.Locator("input[name=full]").FillAsync("80");
        await Assertions.Expect(computer.Locator("#answer")).Not.ToHaveTextAsync(before);
        Assert.Equal("80 %", Plain(await computer.Locator("output").First.InnerTextAsync()));
        await computer.Locator("a.cell").Nth(7).ClickAsync();
        await computer.Locator("#cell .one-cell").WaitForAsync();
        await Browser.CheckAccess(computer, "result with a cell");
        Directory.Delete(folder, recursive: true);
    }

    [InstalledTheory("chromium")]
    [InlineData(360, ColorScheme.Light)]
    [InlineData(1000, ColorScheme.Dark)]
    [InlineData(2560, ColorScheme.Light)]
    public async Task Every_page_is_open_to_everybody_at_every_width(int width, ColorScheme scheme)
    {
        await using ServedPage page = await ServedPage.Start(
            "cut/plan.json", "photos/birch-engrave.plan.json", "second/plan.json", "photos/coated-metal-engrave.plan.json");
        IPage window = await browser.Window(width, 900, scheme);
        await window.GotoAsync(page.Server.NewOpeningLink());
        await window.WaitForURLAsync($"{page.Server.Address}/");
        await Look(window, page, width, "/");
        foreach (string photo in new[] { "photos/birch-engrave.jpg", "second/birch-second.jpg" })
            await page.Send(Path.GetFileName(photo), File.ReadAllBytes(ServedPage.Data(photo)));
        foreach (string photo in new[] { "cut/lime-cut-left.jpg", "cut/lime-cut-front.jpg" })
            await page.Send(Path.GetFileName(photo), File.ReadAllBytes(ServedPage.Data(photo)));
        await page.Send("wrong.jpg", [1, 2, 3]);
        await page.Photos();
        foreach (string path in new[]
        {
            "/", "/photograph", "/phones", "/readings/r1", "/readings/r3", "/readings/r999", "/settings", "/settings?text=birch",
            "/archive", "/archive?text=nothing+of+the+kind", "/compare", "/compare?first=r1&second=r2",
        }) await Look(window, page, width, path);
    }

    private static async Task Look(IPage window, ServedPage page, int width, string path)
    {
        await window.GotoAsync(page.Server.Address + path);
        await Browser.CheckAccess(window, $"{path} at {width}");
        if (Environment.GetEnvironmentVariable("CARDSCAN_SHOW_PAGES") is { } shown)
        {
            string name = string.Concat(path.Select(c => char.IsLetterOrDigit(c) ? c : '-'));
            await window.ScreenshotAsync(new() { Path = Path.Combine(shown, $"{width}{name}.png"), FullPage = true });
        }

        Assert.True(
            await window.EvaluateAsync<bool>("document.documentElement.scrollWidth <= innerWidth"), $"{path} at {width} is too wide");
    }

    /// <summary>What a phone's camera makes of a picture of the screen.</summary>
    private static string Scan(byte[] png)
    {
        using Image<L8> picture = Image.Load<L8>(png);
        byte[] grey = new byte[picture.Width * picture.Height];
        picture.CopyPixelDataTo(grey);
        RGBLuminanceSource source = new(grey, picture.Width, picture.Height, RGBLuminanceSource.BitmapFormat.Gray8);
        return new ZXing.QrCode.QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(source))).Text;
    }

    /// <summary>What a phone's camera makes of lines of half blocks, light ones drawn.</summary>
    internal static string Scan(IEnumerable<string> lines)
    {
        const int square = 4;
        string[] rows = [.. lines];
        int width = square * rows.Max(row => row.Length), height = 2 * square * rows.Length;
        byte[] grey = new byte[width * height];
        for (int y = 0; y < height; y++)
        {
            for (int x = 0; x < width; x++)
            {
                string row = rows[y / square / 2];
                char block = x / square < row.Length ? row[x / square] : ' ';
                bool isLight = block == '█' || block == (y / square % 2 == 0 ? '▀' : '▄');
                grey[y * width + x] = isLight ? byte.MaxValue : (byte)0;
            }
        }

        RGBLuminanceSource source = new(grey, width, height, RGBLuminanceSource.BitmapFormat.Gray8);
        return new ZXing.QrCode.QRCodeReader().decode(new BinaryBitmap(new HybridBinarizer(source))).Text;
    }

    private static string Plain(string text) => text.Replace('\u00a0', ' ');
}
