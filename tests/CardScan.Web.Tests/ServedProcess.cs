using System.Diagnostics;
using Process = System.Diagnostics.Process;

namespace CardScan.Web.Tests;

/// <summary><c>cardscan serve</c> in a process of its own, which can be killed.</summary>
internal sealed class ServedProcess : IDisposable
{
    private readonly Process _process;
    private readonly Task<string> _output;
    private readonly Task<string> _errors;

    private ServedProcess(Process process, string link)
    {
        (_process, Link) = (process, link);
        (_output, _errors) = (process.StandardOutput.ReadToEndAsync(), process.StandardError.ReadToEndAsync());
    }

    /// <summary>The link that the browser was opened with.</summary>
    public string Link { get; }

    /// <summary>What heeds Ctrl-C: a process that was started in the background of a script would be deaf to it.</summary>
    public static string[] Heeding => ["env", "--default-signal=INT"];

    public static string Program => Path.Combine(AppContext.BaseDirectory, "cardscan.dll");

    /// <summary>Starts it on a folder.</summary>
    /// <param name="folder">Holds the archive and the profiles.</param>
    /// <param name="arguments">What follows "serve".</param>
    public static Task<ServedProcess> Start(string folder, params string[] arguments) => Start(folder, null, arguments);

    /// <summary>Starts it after something was done in a name space of its own, whose mounts it alone sees.</summary>
    /// <param name="folder">Holds the archive and the profiles.</param>
    /// <param name="before">What is done, for bash; null for nothing.</param>
    /// <param name="arguments">What follows "serve".</param>
    public static async Task<ServedProcess> Start(string folder, string? before, string[] arguments)
    {
        string link = Path.Combine(folder, "link");
        File.Delete(link);
        string[] command = [.. Heeding, "dotnet", Program, "serve", .. arguments];
        if (before is not null) command = ["unshare", "--map-root-user", "--mount", "bash", "-c", $"{before} && exec \"$@\"", "bash",
            .. command];
        ProcessStartInfo start = new(command[0], command[1..])
        {
            RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false,
        };
        Tell(start.Environment, folder);
        Process process = Process.Start(start)!;
        string found = await WaitFor(link, process);
        return new(process, found);
    }

    /// <summary>What a process is told that serves a folder: its archive, and a browser that writes down where it is sent.</summary>
    public static void Tell(IDictionary<string, string?> environment, string folder)
    {
        string browser = Path.Combine(folder, "browser.sh");
        File.WriteAllText(browser, $"#!/bin/sh\nprintf %s \"$1\" > '{folder}/link.new' && mv '{folder}/link.new' '{folder}/link'\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(browser, (UnixFileMode)0b111_101_101);
        environment["CARDSCAN_ARCHIVE"] = Path.Combine(folder, "archive");
        environment["CARDSCAN_PROFILES"] = Path.Combine(folder, "profiles");
        environment["BROWSER"] = browser;
    }

    /// <summary>Waits for a link that a process sends its browser to.</summary>
    public static async Task<string> WaitFor(string link, Process process)
    {
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(2));
        while (!File.Exists(link))
        {
            Assert.False(process.HasExited, "it ended before it had begun");
            await Task.Delay(20, patience.Token);
        }

        return await File.ReadAllTextAsync(link, patience.Token);
    }

    /// <summary>Ends it as a fault of the computer would.</summary>
    public async Task Kill()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
    }

    /// <summary>Ends it as Ctrl-C does.</summary>
    /// <returns>Its exit code, how long it took, and what it had said.</returns>
    public async Task<(int Code, TimeSpan Took, string Output, string Errors)> Interrupt()
    {
        long begun = Stopwatch.GetTimestamp();
        using Process kill = Process.Start("kill", ["-INT", $"{_process.Id}"]);
        await _process.WaitForExitAsync().WaitAsync(TimeSpan.FromMinutes(1));
        return (_process.ExitCode, Stopwatch.GetElapsedTime(begun), await _output, await _errors);
    }

    public void Dispose()
    {
        if (!_process.HasExited) _process.Kill();
        _process.Dispose();
    }
}
