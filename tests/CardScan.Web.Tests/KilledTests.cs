using System.Collections.Concurrent;
using System.Diagnostics;
using System.Net;
using System.Security.Cryptography;
using CardScan.Workflow;
using Process = System.Diagnostics.Process;

namespace CardScan.Web.Tests;

/// <summary>The program in a process of its own: killed, ended, on a disk that is full or read-only, seen by a terminal.</summary>
public sealed partial class KilledTests : IDisposable
{
    private static readonly string[] Plans = ["photos/birch-engrave.plan.json", "second/plan.json", "cut/plan.json"];

    private static readonly string[] Photos =
        ["photos/birch-engrave.jpg", "second/birch-second.jpg", "cut/lime-cut-left.jpg", "cut/lime-cut-front.jpg",
            "cut/lime-cut-right.jpg"];

    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-killed-").FullName;

    private ArchivePlace Archive => new(Path.Combine(_folder, "archive"), TimeProvider.System);

    private string Inbox => Path.Combine(_folder, "archive", "inbox");

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>
    /// Photos of three cards are sent by two browsers, and the process is killed at any moment, several times. Environment: CARDSCAN_KILLS
    /// for more of them than a test has time for.
    /// </summary>
    [Fact]
    public async Task What_was_said_to_be_kept_is_kept_and_what_came_whole_is_read()
    {
        foreach (string plan in Plans) ServedPage.Keep(_folder, ServedPage.Data(plan));
        int kills = int.Parse(Environment.GetEnvironmentVariable("CARDSCAN_KILLS") ?? "2");
        Random chance = new(kills);
        ConcurrentDictionary<string, bool> whole = [], kept = [];
        int number = 0;
        for (int kill = 0; kill < kills; kill++)
        {
            using ServedProcess server = await ServedProcess.Start(_folder);
            using Visitor visitor = await Visitor.By(server.Link);
            using CancellationTokenSource over = new();
            Task[] work = [Send(), Send(), Look()];
            await Task.Delay(chance.Next(100, 4000));
            // On a busy machine nothing may have come whole yet: then the last kill would tell nothing.
            for (int wait = 0; kill == kills - 1 && whole.IsEmpty && wait < 600; wait++) await Task.Delay(100);
            await server.Kill();
            await over.CancelAsync();
            foreach (Task each in work)
            {
                if (await Record.ExceptionAsync(() =>
                    each) is { } fault) Assert.True(fault is HttpRequestException or OperationCanceledException, $"{fault}");
            }

            async Task Send()
            {
                while (!over.IsCancellationRequested)
                {
                    // About as fast as they are read.
                    await Task.Delay(700, over.Token);
                    int i = Interlocked.Increment(ref number);
                    // The same picture in another file: what follows its end is nobody's.
                    byte[] photo = [.. File.ReadAllBytes(ServedPage.Data(Photos[i % Photos.Length])), .. BitConverter.GetBytes(i)];
                    (HttpStatusCode code, string text) = await visitor.Deliver($"{i}.jpg", photo, piece: 200_000);
                    Assert.True(code == HttpStatusCode.OK, text);
                    whole[Convert.ToHexStringLower(SHA256.HashData(photo))] = true;
                    names[$"{i}.jpg"] = Convert.ToHexStringLower(SHA256.HashData(photo));
                }
            }

            async Task Look()
            {
                while (!over.IsCancellationRequested)
                {
                    foreach (AngleSharp.Dom.IElement photo in (await visitor.Page("/photos"))
                        .QuerySelectorAll("li.photo.kept .name")) kept[photo.TextContent] = true;
                    await Task.Delay(20, over.Token);
                }
            }
        }

        Assert.NotEmpty(whole);
        HashSet<string> before = [.. Current().SelectMany(reading => reading)];
        Assert.All(kept.Keys, name => Assert.Contains(names[name], before));

        using ServedProcess last = await ServedProcess.Start(_folder);
        Assert.Empty(Directory.EnumerateFiles(Inbox, "*.part"));
        using Visitor after = await Visitor.By(last.Link);
        await after.Photos();
        string[][] readings = Current();
        Assert.All(whole.Keys, sha256 => Assert.Contains(readings, reading => reading.Contains(sha256)));
        Assert.All(readings, reading => Assert.Equal(reading.Length, reading.Distinct().Count()));
        Assert.Empty(Directory.EnumerateFiles(Inbox));
        Assert.Empty(Archive.Verify().Value.Faults);
    }

    [Fact]
    public async Task Ctrl_C_ends_it_cleanly_while_pages_listen()
    {
        using ServedProcess server = await ServedProcess.Start(_folder);
        using Visitor first = await Visitor.By(server.Link);
        using Stream bell = await first.Client.GetStreamAsync(first.At("/changes"));
        using StreamReader heard = new(bell);
        await heard.ReadLineAsync();
        (int code, TimeSpan took, string output, string errors) = await server.Interrupt();
        Assert.True(code == 0, $"{code}: {errors}");
        Assert.InRange(took, TimeSpan.Zero, TimeSpan.FromSeconds(10));
        Assert.Contains(Voice.Say("terminal.serve.ended"), errors, StringComparison.Ordinal);
        // It went to a file, and a file lets nobody in.
        Assert.DoesNotContain("/in/", output + errors, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_full_disk_is_told_on_the_page_and_what_came_before_stays()
    {
        ServedPage.Keep(_folder, ServedPage.Data("photos/birch-engrave.plan.json"));
        string archive = Path.Combine(_folder, "archive"), seed = Path.Combine(_folder, "seed");
        Directory.Move(archive, seed);
        Directory.CreateDirectory(archive);
        if (!CanMount()) return;
        // Large enough that what the database takes hardly counts.
        byte[] photo = [.. File.ReadAllBytes(ServedPage.Data("photos/birch-engrave.jpg")), .. new byte[4_000_000]];
        long seeded = new DirectoryInfo(seed).EnumerateFiles("*", SearchOption.AllDirectories).Sum(file => file.Length);
        long room = (seeded + photo.Length * 3 / 2) / 1024 + 200;
        using ServedProcess server = await ServedProcess.Start(
            _folder, $"mount -t tmpfs -o size={room}k none '{archive}' && cp -r '{seed}/.' '{archive}'", []);
        using Visitor visitor = await Visitor.By(server.Link);
        // There is room for the photo, and none for what is made of it.
        await visitor.Send("first.jpg", photo);
        AngleSharp.Dom.IElement told = Assert.Single(await visitor.Photos());
        Assert.Contains("refused", told.ClassList);
        Assert.Equal(Codes.ArchiveFull, told.QuerySelector(".code")!.TextContent);
        // There is no room for a second one.
        (HttpStatusCode code, string text) = await visitor.Deliver("second.jpg", [.. photo, 1]);
        Assert.Equal(HttpStatusCode.InsufficientStorage, code);
        Assert.Contains(Codes.DiskFull, text, StringComparison.Ordinal);
        foreach (string path in new[] { "/", "/archive", "/settings", "/photograph" }) await visitor.Text(path);
    }

    [Fact]
    public async Task A_read_only_archive_is_told_on_the_page_and_looked_at()
    {
        ServedPage.Keep(_folder, ServedPage.Data("photos/birch-engrave.plan.json"));
        if (!CanMount()) return;
        string archive = Path.Combine(_folder, "archive");
        using ServedProcess server = await ServedProcess.Start(
            _folder, $"mount --bind '{archive}' '{archive}' && mount -o remount,ro,bind '{archive}'", []);
        using Visitor visitor = await Visitor.By(server.Link);
        foreach (string path in new[] { "/", "/settings", "/photograph" }) await visitor.Text(path);
        Assert.Contains("birch", await visitor.Text("/archive"), StringComparison.Ordinal);
        using HttpResponseMessage answer = await visitor.Post("/photos?name=a.jpg&size=1000");
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.InsufficientStorage, text);
        Assert.Contains("role=\"alert\"", text, StringComparison.Ordinal);
    }

    [InstalledFact("script")]
    public async Task A_terminal_shows_a_code_that_can_be_scanned_whatever_its_colours_are()
    {
        (string text, int code) = await OnTerminal("xterm-256color", null);
        Assert.Equal(0, code);
        string[] lines = [.. text.Split('\n').Where(line => line.Contains('█', StringComparison.Ordinal)
            || line.Contains('▀', StringComparison.Ordinal))];
        // White on black, each line by itself: "38;5;15" and "48;5;16" or the like.
        Assert.InRange(lines.Length, 15, 30);
        Assert.All(lines, line => Assert.Matches("\u001b\\[38;5;(15|231);48;5;(0|16)m", line));
        Assert.StartsWith("http://127.0.0.1:", StoryTests.Scan(lines.Select(line => Escapes().Replace(line, "").TrimEnd('\r'))),
            StringComparison.Ordinal);
    }

    [InstalledFact("script")]
    public async Task A_terminal_without_colours_shows_the_code_plainly()
    {
        (string text, int code) = await OnTerminal("xterm-256color", "1");
        Assert.Equal(0, code);
        Assert.Contains('▀', text);
        Assert.DoesNotContain("\u001b[38", text, StringComparison.Ordinal);
    }

    private readonly ConcurrentDictionary<string, string> names = [];

    [System.Text.RegularExpressions.GeneratedRegex("\u001b\\[[0-9;?]*[A-Za-z]")]
    private static partial System.Text.RegularExpressions.Regex Escapes();

    /// <summary>What a terminal of 100 columns shows until Ctrl-C is typed, and the exit code.</summary>
    private async Task<(string Text, int Code)> OnTerminal(string kind, string? noColor)
    {
        string command = $"stty cols 100 rows 50; exec {string.Join(' ', ServedProcess.Heeding)} "
            + $"dotnet '{ServedProcess.Program}' serve --phone --address 127.0.0.1";
        ProcessStartInfo start = new("script", ["-qefc", command, "/dev/null"])
        {
            RedirectStandardInput = true, RedirectStandardOutput = true, UseShellExecute = false,
        };
        ServedProcess.Tell(start.Environment, _folder);
        (start.Environment["TERM"], start.Environment["NO_COLOR"]) = (kind, noColor);
        start.Environment.Remove("COLORTERM");
        using Process terminal = Process.Start(start)!;
        Task<string> text = terminal.StandardOutput.ReadToEndAsync();
        await ServedProcess.WaitFor(Path.Combine(_folder, "link"), terminal);
        await Task.Delay(500);
        await terminal.StandardInput.WriteAsync('\u0003');
        await terminal.StandardInput.FlushAsync();
        try
        {
            await terminal.WaitForExitAsync().WaitAsync(TimeSpan.FromMinutes(1));
        }
        finally
        {
            terminal.Kill(entireProcessTree: true);
        }

        return (await text, terminal.ExitCode);
    }

    private static bool CanMount()
    {
        using Process tried = Process.Start(new ProcessStartInfo("unshare",
            ["--map-root-user", "--mount", "mount", "-t", "tmpfs", "none", "/mnt"])
        {
            RedirectStandardError = true, UseShellExecute = false,
        })!;
        tried.WaitForExit();
        return tried.ExitCode == 0;
    }

    /// <summary>The photos' fingerprints, reading by reading.</summary>
    private string[][] Current() => [.. Archive.Find(new() { Most = 100 }).Value.Cards
        .SelectMany(card => Archive.Show(card.Name).Value.Cards!.SelectMany(each => each.Readings))
        .Select(reading => reading.Photos.Select(photo => photo.Sha256!).ToArray())];
}
