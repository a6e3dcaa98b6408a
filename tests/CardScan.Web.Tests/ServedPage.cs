using System.Collections.Concurrent;
using System.Net;
using AngleSharp.Html.Dom;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>A server with an archive of its own in a folder of its own, and the computer's browser that was let in.</summary>
internal sealed class ServedPage : IAsyncDisposable
{
    private static readonly ConcurrentDictionary<string, Lazy<Task<string>>> ReadArchives = new();

    /// <summary>The name that phones have for this computer.</summary>
    private const string PhonesName = "192.168.77.7";

    private ServedPage(string folder, PageServer server, Visitor computer) => (Folder, Server, Computer) = (folder, server, computer);

    /// <summary>Everything that the test leaves.</summary>
    public string Folder { get; }

    public PageServer Server { get; private set; }

    /// <summary>The computer's browser.</summary>
    public Visitor Computer { get; private set; }

    /// <summary>Asks as the computer's browser: with its cookie, and no other header.</summary>
    public HttpClient Client => Computer.Client;

    public ArchivePlace Archive => ArchiveIn(Folder);

    public static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    /// <summary>A server whose browser was let in.</summary>
    /// <param name="cards">Files of plans whose cards the archive knows.</param>
    public static async Task<ServedPage> Start(params string[] cards)
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        foreach (string plan in cards) Keep(folder, Data(plan));
        return await StartOn(folder);
    }

    /// <summary>
    /// A server on an archive that has read photos already, for tests to which the sending is not the point: the photos are sent and
    /// read once for all of them. The list of photos is empty.
    /// </summary>
    /// <param name="cards">Files of plans whose cards the archive knows.</param>
    /// <param name="photos">Files of photos, in their order.</param>
    public static async Task<ServedPage> WithRead(string[] cards, params string[] photos)
    {
        string read = await ReadArchives.GetOrAdd($"{string.Join(' ', cards)}: {string.Join(' ', photos)}", _ => new(async () =>
        {
            await using ServedPage page = await Start(cards);
            foreach (string photo in photos) await page.Send(Path.GetFileName(photo), File.ReadAllBytes(Data(photo)));
            Assert.All(await page.Photos(), photo => Assert.Contains("kept", photo.ClassList));
            await page.Server.DisposeAsync();
            string kept = Directory.CreateTempSubdirectory("cardscan-web-read-").FullName;
            AppDomain.CurrentDomain.ProcessExit += (_, _) => Directory.Delete(kept, recursive: true);
            Copy(page.Folder, kept);
            return kept;
        })).Value;
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        Copy(read, folder);
        return await StartOn(folder);
    }

    /// <summary>The page of a workshop, whose browser is that of a member who keeps it.</summary>
    /// <param name="cards">Files of plans whose cards the archive knows.</param>
    public static async Task<ServedPage> StartWorkshop(params string[] cards)
    {
        ServedWorkshop shop = await ServedWorkshop.Start(cards);
        return new(shop.Folder, shop.Server, await shop.Join("Kim", MemberRole.Keep));
    }

    /// <summary>A server on a folder that is there, whose browser was let in.</summary>
    public static async Task<ServedPage> StartOn(string folder)
    {
        PageServer server = await StartIn(folder);
        return new(folder, server, await Enter(server));
    }

    /// <summary>Starts a server on a folder; phones come to it by a name of the local network.</summary>
    public static async Task<PageServer> StartIn(string folder, Func<ServeRequest, ServeRequest>? change = null)
    {
        ServeRequest request = new(ArchiveIn(folder), new(Path.Combine(folder, "profiles")), TimeProvider.System)
        {
            Port = 0, PhoneAddress = IPAddress.Loopback, PhoneHost = PhonesName,
            DemoFolder = AppContext.BaseDirectory,
        };
        Outcome<PageServer> server = await PageServer.Start(change?.Invoke(request) ?? request);
        return server.Value;
    }

    /// <summary>Ends the server and starts it anew on the same folder, as after a fault of the computer.</summary>
    public async Task StartAnew()
    {
        await Server.DisposeAsync();
        Computer.Dispose();
        Server = await StartIn(Folder);
        Computer = await Enter(Server);
    }

    /// <summary>A phone that scans the code.</summary>
    public async Task<Visitor> Phone()
    {
        if (Server.PhoneLink is null)
        {
            using HttpResponseMessage opened = await Post("/phones/open");
            Assert.Equal(HttpStatusCode.OK, opened.StatusCode);
        }

        return await Visitor.By(Server.PhoneLink!);
    }

    public Uri At(string path) => Computer.At(path);

    public Task<string> Text(string path) => Computer.Text(path);

    public Task<IHtmlDocument> Page(string path) => Computer.Page(path);

    /// <summary>Asks as the page's own script does.</summary>
    public HttpRequestMessage Own(HttpMethod method, string path, HttpContent? content = null) => Computer.Own(method, path, content);

    public Task<HttpResponseMessage> Post(string path, params (string Name, string Value)[] fields) => Computer.Post(path, fields);

    /// <summary>Sends a file as the page does; gives the photo's id.</summary>
    public Task<string> Send(string name, byte[] bytes, int piece = 1 << 20) => Computer.Send(name, bytes, piece);

    public Task<string> Begin(string name, long size) => Computer.Begin(name, size);

    public Task<(HttpStatusCode Code, string Text)> Put(string id, long at, byte[] piece) => Computer.Put(id, at, piece);

    /// <summary>Waits until nothing is under way, and gives the photos of the list, newest first.</summary>
    public Task<IReadOnlyList<AngleSharp.Dom.IElement>> Photos() => Computer.Photos();

    /// <summary>Where the list of photos leads for the newest result.</summary>
    public async Task<string> NewestResult() =>
        (await Page(PhotographPage.ListPath)).QuerySelector(".result a.button")!.GetAttribute("href")!;

    public async ValueTask DisposeAsync()
    {
        Computer.Dispose();
        await Server.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    /// <summary>Keeps a card by its plan.</summary>
    public static void Keep(string folder, string plan)
    {
        using CardArchive archive = CardArchive.Open(Path.Combine(folder, "archive"), TimeProvider.System).Value;
        Assert.False(archive.KeepCard(File.ReadAllBytes(plan)).IsRefused);
    }

    private static void Copy(string from, string to)
    {
        foreach (string file in Directory.EnumerateFiles(from, "*", SearchOption.AllDirectories))
        {
            string copy = Path.Combine(to, Path.GetRelativePath(from, file));
            Directory.CreateDirectory(Path.GetDirectoryName(copy)!);
            File.Copy(file, copy);
        }
    }

    private static async Task<Visitor> Enter(PageServer server)
    {
        Visitor computer = new(server.Address);
        using HttpResponseMessage answer = await computer.Client.GetAsync(new Uri(server.NewOpeningLink()));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("url=/", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        return computer;
    }

    private static ArchivePlace ArchiveIn(string folder) => new(Path.Combine(folder, "archive"), TimeProvider.System);
}
