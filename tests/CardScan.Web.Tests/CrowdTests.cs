using System.Collections.Concurrent;
using System.Diagnostics;
using CardScan.Workflow;
using Process = System.Diagnostics.Process;

namespace CardScan.Web.Tests;

/// <summary>Many at once, and for long.</summary>
public class CrowdTests
{
    private static readonly string[] Plans = ["photos/birch-engrave.plan.json", "second/plan.json", "photos/coated-metal-engrave.plan.json",
        "cut/plan.json"];

    private static readonly string[] Photos =
    [
        "photos/birch-engrave.jpg", "second/birch-second.jpg", "photos/coated-metal-engrave.jpg",
        "cut/lime-cut-left.jpg", "cut/lime-cut-front.jpg", "cut/lime-cut-right.jpg",
    ];

    /// <summary>The same picture in another file: what follows its end is nobody's.</summary>
    private static byte[] Photo(string name, int copy) => [.. File.ReadAllBytes(ServedPage.Data(name)), .. BitConverter.GetBytes(copy)];

    [Fact]
    public async Task Five_phones_two_computers_and_the_command_line_share_an_archive()
    {
        await using ServedPage page = await ServedPage.Start(Plans);
        List<Visitor> visitors = [page.Computer, await Visitor.By(page.Server.NewOpeningLink())];
        for (int i = 0; i < 5; i++) visitors.Add(await page.Phone());
        ConcurrentBag<string> sent = [];
        Task[] senders = [.. visitors.Select((visitor, v) => Task.Run(async () =>
        {
            foreach (int i in Enumerable.Range(0, 3))
            {
                byte[] photo = Photo(Photos[(v + 2 * i) % Photos.Length], 10 * v + i);
                await visitor.Send($"{v}-{i}.jpg", photo, piece: 60_000);
                sent.Add(Model.CardJson.Sha256(photo));
                await visitor.Text(v % 2 == 0 ? "/" : "/archive");
            }
        }))];
        Task<(int Code, string Errors)>[] commands = [.. Enumerable.Range(0, 2).Select(i => Command(page, i))];
        await Task.WhenAll(senders);
        foreach ((int code, string errors) in await Task.WhenAll(commands)) Assert.True(code == 0, errors);
        IReadOnlyList<AngleSharp.Dom.IElement> shown = await page.Photos();
        Assert.All(shown, photo => Assert.Contains("kept", photo.ClassList));

        string[] kept = [.. page.Archive.Find(new() { Most = 100 }).Value.Cards
            .SelectMany(card => page.Archive.Show(card.Name).Value.Cards.Single().Readings).SelectMany(reading => reading.Photos)
                .Select(photo => photo.Sha256)];
        Assert.Equal(21, sent.Count);
        Assert.All(sent, sha256 => Assert.Contains(sha256, kept));
        Assert.Empty(page.Archive.Verify().Value.Faults);
        Assert.Equal(Plans.Length, page.Archive.Find(new()).Value.Count);
        foreach (Visitor visitor in visitors.Skip(1)) visitor.Dispose();
    }

    /// <summary>More than the list shows and the server remembers, of one small card.</summary>
    [Fact]
    public async Task Photos_in_a_row_leave_nothing_behind()
    {
        await using ServedPage page = await ServedPage.Start("second/plan.json");
        for (int i = 0; i < 30; i++) await page.Send($"{i}.jpg", Photo("second/birch-second.jpg", i));
        IReadOnlyList<AngleSharp.Dom.IElement> photos = await page.Photos();
        Assert.Equal(12, photos.Count);
        Assert.Equal("29.jpg", photos[0].QuerySelector(".name")!.TextContent);
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(page.Folder, "archive", "inbox")));
        string name = (await page.NewestResult()).Split('/')[^1];
        Assert.Equal(PhotoSitting.MostOfCard, page.Archive.Show(name).Value.Reading!.Reading.Photos.Count);
    }

    /// <summary>What the page remembers of settings is forgotten when any process changes the archive.</summary>
    [Fact]
    public async Task Settings_follow_what_the_command_line_keeps()
    {
        await using ServedPage page = await ServedPage.Start("second/plan.json");
        Assert.Equal(0, (await page.Page("/settings")).QuerySelectorAll(".entries li").Length);
        (int code, string errors) = await Command(page, 1);
        Assert.True(code == 0, errors);
        int first = (await page.Page("/settings")).QuerySelectorAll(".entries li").Length;
        Assert.InRange(first, 1, 10);
        Assert.Equal(first, (await page.Page("/")).QuerySelectorAll(".entries li").Length);
        string before = await page.Text("/settings");
        Assert.Equal(before, await page.Text("/settings"));
        (code, errors) = await Command(page, 1, copy: 7);
        Assert.True(code == 0, errors);
        Assert.Contains("/readings/r2", await page.Text("/settings"), StringComparison.Ordinal);
    }

    /// <summary>With every number given out no card can be planned, and everything else goes on.</summary>
    [Fact]
    public async Task An_archive_whose_numbers_are_all_used_is_served()
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        System.Text.Json.Nodes.JsonNode plan =
            System.Text.Json.Nodes.JsonNode.Parse(File.ReadAllBytes(ServedPage.Data("second/plan.json")))!;
        using (Archive.CardArchive archive = Archive.CardArchive.Open(Path.Combine(folder, "archive"), TimeProvider.System).Value)
        {
            for (int number = 0; number < Model.Plan.Numbers; number++)
            {
                plan["number"] = number;
                for (int i = 0; i < 4; i++) plan["fiducials"]!["markers"]![i]!["id"] = 4 * number + i;
                Assert.False(archive.KeepCard(System.Text.Encoding.UTF8.GetBytes(plan.ToJsonString())).IsRefused);
            }
        }

        await using ServedPage page = await ServedPage.StartOn(folder);
        foreach (string path in new[] { "/", "/archive", "/settings", "/photograph", "/cards/new" }) await page.Text(path);
    }

    private static async Task<(int Code, string Errors)> Command(ServedPage page, int which, int copy = 1000)
    {
        string photo = Path.Combine(page.Folder, $"own-{which}-{copy}.jpg");
        File.WriteAllBytes(photo, Photo(Photos[which], copy));
        ProcessStartInfo start = new("dotnet", [ServedProcess.Program, "read", photo, "--archive", Path.Combine(page.Folder, "archive")])
        {
            RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false, WorkingDirectory = page.Folder,
        };
        using Process process = Process.Start(start)!;
        Task<string> output = process.StandardOutput.ReadToEndAsync();
        string errors = await process.StandardError.ReadToEndAsync();
        await process.WaitForExitAsync();
        return (process.ExitCode, errors + await output);
    }
}
