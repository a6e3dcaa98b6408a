using System.Diagnostics;
using System.IO.Enumeration;
using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

// Many tests wait for a process or a clock meanwhile.
[assembly: CollectionBehavior(MaxParallelThreads = 3)]

namespace CardScan.Web.Tests;

/// <summary>One real browser for all tests; names of the local network lead to this computer.</summary>
public sealed class Browser : IAsyncLifetime
{
    /// <summary>An address of a local network: an origin that browsers do not trust, as that of a real phone's page is.</summary>
    public const string PhoneHost = "192.168.77.7";

    /// <summary>A slow machine takes its time.</summary>
    private static readonly TimeSpan Patience = TimeSpan.FromMinutes(1);

    /// <summary>It ends with the process of the tests.</summary>
    private static readonly Lazy<Task<IBrowser?>> Launched = new(Launch);

    private readonly List<IBrowserContext> _windows = [];
    private IBrowser? _browser;

    public async Task InitializeAsync() => _browser = await Launched.Value;

    private static async Task<IBrowser?> Launch()
    {
        string? program = (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
            .Select(folder => Path.Combine(folder, "chromium")).FirstOrDefault(File.Exists);
        if (program is null) return null; // the tests say by themselves that they are skipped
        IPlaywright driver = await Playwright.CreateAsync();
        return await driver.Chromium.LaunchAsync(new()
        {
            ExecutablePath = program,
            Args = ["--no-sandbox", "--disable-dev-shm-usage", $"--host-resolver-rules=MAP {PhoneHost} 127.0.0.1"],
        });
    }

    /// <summary>A window of its own, that has been nowhere.</summary>
    public async Task<IPage> Window(int width = 1280, int height = 900, ColorScheme scheme = ColorScheme.Light, bool isPhone = false)
    {
        IBrowserContext context = await _browser!.NewContextAsync(new()
        {
            ViewportSize = new() { Width = width, Height = height }, ColorScheme = scheme, IsMobile = isPhone, HasTouch = isPhone,
            ReducedMotion = ReducedMotion.Reduce,
            UserAgent = isPhone ? "Mozilla/5.0 (iPhone; CPU iPhone OS 19_0 like Mac OS X) AppleWebKit/605.1.15 Mobile/15E148" : null,
        });
        context.SetDefaultTimeout((float)Patience.TotalMilliseconds);
        _windows.Add(context);
        return await context.NewPageAsync();
    }

    /// <summary>
    /// Waits until a window is at an address and has loaded. It is asked again and again: Playwright's own waits miss what comes
    /// between their first look and their listening.
    /// </summary>
    /// <param name="window">The window.</param>
    /// <param name="address">The address; a star stands for anything.</param>
    public static async Task At(IPage window, string address)
    {
        long begun = Stopwatch.GetTimestamp();
        while (!FileSystemName.MatchesSimpleExpression(address, window.Url, ignoreCase: false) || !await HasLoaded(window))
        {
            Assert.True(Stopwatch.GetElapsedTime(begun) < Patience, $"{window.Url} instead of {address}, or not loaded");
            await Task.Delay(20);
        }
    }

    private static async Task<bool> HasLoaded(IPage window)
    {
        try
        {
            return await window.EvaluateAsync<bool>("document.readyState === 'complete'");
        }
        catch (PlaywrightException)
        {
            return false; // the page that was asked is gone
        }
    }

    /// <summary>
    /// Opens the choice of files, and gives it. The browser starts to report the choice some time after it is asked to, and what
    /// was opened before is never heard of: where nothing is heard, it is opened again.
    /// </summary>
    /// <param name="window">The window.</param>
    /// <param name="open">Opens the choice of files: a press or a click.</param>
    public static async Task<IFileChooser> Asked(IPage window, Func<Task> open)
    {
        TaskCompletionSource<IFileChooser> asked = new();
        window.FileChooser += (_, chooser) => asked.TrySetResult(chooser);
        long begun = Stopwatch.GetTimestamp();
        while (!asked.Task.IsCompleted)
        {
            Assert.True(Stopwatch.GetElapsedTime(begun) < Patience, $"{window.Url} does not ask for files");
            await open();
            await Task.WhenAny(asked.Task, Task.Delay(TimeSpan.FromSeconds(5)));
        }

        return await asked.Task;
    }

    /// <summary>Waits until a window shows words; where it never does, the failure says what it shows instead.</summary>
    public static async Task Shows(IPage window, string words)
    {
        try
        {
            await window.GetByText(words).First.WaitForAsync();
        }
        catch (TimeoutException)
        {
            Assert.Fail($"{window.Url} has no \"{words}\":\n{await window.Locator("body").InnerTextAsync()}");
        }
    }

    /// <summary>Fails where a page has what keeps people out (axe-core's rules of WCAG 2.2 A and AA, and its best practices).</summary>
    public static async Task CheckAccess(IPage page, string state)
    {
        AxeResult result = await page.RunAxe(new AxeRunOptions { ResultTypes = [ResultType.Violations] });
        Assert.True(result.Violations.Length == 0, $"{state}: " + string.Join("\n", result.Violations.Select(each =>
            $"{each.Id}: {each.Help}: {string.Join(" | ", each.Nodes.Take(3).Select(node => node.Html))}")));
    }

    public async Task DisposeAsync()
    {
        foreach (IBrowserContext window in _windows) await window.DisposeAsync();
    }
}
