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

    /// <summary>
    /// One run: a card is planned on the page, a phone joins by the code on the screen, cards are photographed, the result stands on both
    /// screens, is asked for more or less, compared with that of another card, and printed.
    /// </summary>
    [InstalledFact("chromium")]
    public async Task A_maker_plans_photographs_looks_compares_and_prints()
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        foreach (string plan in new[] { "photos/birch-engrave.plan.json", "second/plan.json" })
            ServedPage.Keep(folder, ServedPage.Data(plan));
        await using (PageServer server = await Serve(folder))
        {
            IPage computer = await browser.Window();
            await computer.GotoAsync(server.NewOpeningLink());
            await Browser.At(computer, $"{server.Address}/");
            await Plan(computer);
            IPage phone = await Join(computer, server);
            await Photograph(computer, phone, server);
            await AskForLess(computer);
            await Print(computer, folder);
            await Compare(computer);
        }

        Directory.Delete(folder, recursive: true);
    }

    private static async Task Plan(IPage computer)
    {
        await computer.Locator(".bar a[href='/cards/new']").ClickAsync();
        foreach ((string field, string value) in new[]
        {
            ("name", "bench diode"), ("watts", "10"), ("material", "birch plywood"), ("thickness", "3"), ("batch", "B-0733"),
        }) await computer.Locator($"#{field}").FillAsync(value);
        await computer.Locator("svg.preview").WaitForAsync();
        string made = Voice.Say("web.make.do", ("number", 0));
        await computer.GetByRole(AriaRole.Button, new() { Name = made }).ClickAsync();
        await Browser.At(computer, "**/cards/c3");
        await Told(computer, ("what", "burned")).ClickAsync();
        await Told(computer, ("what", "burned-not")).WaitForAsync();
        // It is today's task from now on.
        await computer.Locator(".bar a[href='/']").First.ClickAsync();
        await Browser.At(computer, "*/");
        await Browser.Shows(computer, "birch plywood 3\u00a0mm is burned");

        static ILocator Told(IPage page, (string, Figure) what) =>
            page.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.card.do", what), Exact = true });
    }

    private async Task<IPage> Join(IPage computer, PageServer server)
    {
        await computer.GotoAsync($"{server.Address}/phones");
        await computer.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.phones.open") }).ClickAsync();
        string link = Scan(await computer.Locator("svg.code").ScreenshotAsync());
        Assert.StartsWith($"http://{Browser.PhoneHost}:", link, StringComparison.Ordinal);

        IPage phone = await browser.Window(390, 844, isPhone: true);
        await phone.GotoAsync(link);
        await Browser.At(phone, "**/photograph");
        Assert.False(await phone.EvaluateAsync<bool>("isSecureContext"));
        await computer.Locator(".phones li", new() { HasText = "iPhone" }).WaitForAsync();
        // The code on the screen is another one by now.
        Assert.NotEqual(link, Scan(await computer.Locator("svg.code").ScreenshotAsync()));
        return phone;
    }

    private static async Task Photograph(IPage computer, IPage phone, PageServer server)
    {
        await computer.GotoAsync($"{server.Address}/photograph");
        await phone.Locator("input[capture]").SetInputFilesAsync(ServedPage.Data("second/birch-second.jpg"));
        await computer.Locator(".result a[href='/readings/r1']").WaitForAsync();
        await phone.Locator("input[capture]").SetInputFilesAsync(ServedPage.Data("photos/birch-engrave.jpg"));
        foreach (IPage screen in new[] { phone, computer })
        {
            await screen.Locator(".result a[href='/readings/r2']").WaitForAsync();
            string setting = Plain(await screen.Locator(".result .figures").First.InnerTextAsync());
            Assert.Contains("1500 mm/min", setting, StringComparison.Ordinal);
            await Browser.CheckAccess(screen, "result in the list");
        }
    }

    private static async Task AskForLess(IPage computer)
    {
        await computer.GetByRole(AriaRole.Link, new() { Name = Voice.Say("web.photo.result") }).ClickAsync();
        await Browser.At(computer, "**/readings/r2");
        string before = await computer.Locator("#answer").InnerTextAsync();
        await computer.Locator("input[name=full]").FillAsync("80");
        await Assertions.Expect(computer.Locator("#answer")).Not.ToHaveTextAsync(before);
        Assert.Equal("80 %", Plain(await computer.Locator("output").First.InnerTextAsync()));
        await computer.Locator("a.cell").Nth(7).ClickAsync();
        await computer.Locator("#cell .one-cell").WaitForAsync();
        await Browser.CheckAccess(computer, "result with a cell");
    }

    /// <summary>On paper: one answer, nothing to press, and white edges all around.</summary>
    private static async Task Print(IPage computer, string folder)
    {
        await computer.ReloadAsync();
        (string text, int pages) = await Printed.Of(computer, Path.Combine(folder, "result.pdf"));
        Assert.InRange(pages, 1, 3);
        string lead = Plain(await computer.Locator(".judgement").First.InnerTextAsync()).Split('.')[0];
        Assert.Equal(1, Printed.Count(text, lead));
        Assert.Equal(1, Printed.Count(text, Voice.Say("page.caution.title")));
    }

    private static async Task Compare(IPage computer)
    {
        await computer.Locator(".bar a[href='/']").First.ClickAsync();
        await computer.Locator("a[href='/compare']").ClickAsync();
        await computer.Locator("select[name=first]").SelectOptionAsync("r1");
        await computer.Locator("select[name=second]").SelectOptionAsync("r2");
        await computer.GetByRole(AriaRole.Button, new() { Name = Voice.Say("web.compare.do") }).ClickAsync();
        await Browser.At(computer, "**/compare?first=r1&second=r2");
        Assert.Contains("B-0412", await computer.Locator("h1").InnerTextAsync(), StringComparison.Ordinal);
        Assert.Matches("[0-9]+ mm/min", Plain(await computer.Locator(".answer, .figures").First.InnerTextAsync()));
        await Browser.CheckAccess(computer, "two cards compared");
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
