using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web.Tests;

/// <summary>A server with an archive of its own in a folder of its own, and a browser's way of asking it.</summary>
internal sealed class ServedPage : IAsyncDisposable
{
    private readonly HttpClientHandler _handler = new() { CookieContainer = new(), AllowAutoRedirect = false };

    private ServedPage(string folder, PageServer server) => (Folder, Server, Client) = (folder, server, new(_handler));

    /// <summary>Everything that the test leaves.</summary>
    public string Folder { get; }

    public PageServer Server { get; private set; }

    /// <summary>Asks as the computer's browser: with its cookie, and no other header.</summary>
    public HttpClient Client { get; }

    public ArchivePlace Archive => ArchiveIn(Folder);

    public static string Data(string name) => Path.Combine(AppContext.BaseDirectory, "Data", name);

    /// <summary>A server whose browser was let in.</summary>
    /// <param name="cards">Files of plans whose cards the archive knows.</param>
    public static async Task<ServedPage> Start(params string[] cards)
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-web-").FullName;
        foreach (string plan in cards) Keep(folder, Data(plan));
        ServedPage page = new(folder, await StartIn(folder));
        await page.Enter();
        return page;
    }

    /// <summary>Starts a server on a folder.</summary>
    public static async Task<PageServer> StartIn(string folder, Func<ServeRequest, ServeRequest>? change = null)
    {
        ServeRequest request = new(ArchiveIn(folder), new(Path.Combine(folder, "profiles")), TimeProvider.System)
        {
            Port = 0, DemoFolder = AppContext.BaseDirectory,
        };
        Outcome<PageServer> server = await PageServer.Start(change?.Invoke(request) ?? request);
        return server.Value;
    }

    /// <summary>Ends the server and starts it anew on the same folder, as after a fault of the computer.</summary>
    public async Task StartAnew()
    {
        await Server.DisposeAsync();
        Server = await StartIn(Folder);
        await Enter();
    }

    public Uri At(string path) => new(Server.Address + path);

    public async Task<string> Text(string path)
    {
        using HttpResponseMessage answer = await Client.GetAsync(At(path));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {(int)answer.StatusCode} {text}");
        return text;
    }

    public async Task<IHtmlDocument> Page(string path) => new HtmlParser().ParseDocument(await Text(path));

    /// <summary>Asks as the page's own script does.</summary>
    public HttpRequestMessage Own(HttpMethod method, string path, HttpContent? content = null)
    {
        HttpRequestMessage request = new(method, At(path)) { Content = content };
        request.Headers.Add("Origin", Server.Address);
        request.Headers.Add(DoorKeeper.OwnHeader, "1");
        return request;
    }

    public async Task<HttpResponseMessage> Post(string path, params (string Name, string Value)[] fields)
    {
        using FormUrlEncodedContent form = new(fields.Select(field => KeyValuePair.Create(field.Name, field.Value)));
        using HttpRequestMessage request = Own(HttpMethod.Post, path, form);
        return await Client.SendAsync(request);
    }

    /// <summary>Sends a file as the page does; gives the photo's id.</summary>
    public async Task<string> Send(string name, byte[] bytes, int piece = 1 << 20)
    {
        string id = await Begin(name, bytes.Length);
        for (int at = 0; at < bytes.Length; at += piece)
        {
            (HttpStatusCode code, string text) = await Put(id, at, bytes[at..Math.Min(bytes.Length, at + piece)]);
            Assert.True(code == HttpStatusCode.OK, text);
            id = JsonDocument.Parse(text).RootElement.GetProperty("id").GetString()!;
        }

        return id;
    }

    public async Task<string> Begin(string name, long size)
    {
        using HttpRequestMessage request = Own(HttpMethod.Post, $"/photos?name={Uri.EscapeDataString(name)}&size={size}");
        using HttpResponseMessage answer = await Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        JsonElement told = await answer.Content.ReadFromJsonAsync<JsonElement>();
        return told.GetProperty("id").GetString()!;
    }

    public async Task<(HttpStatusCode Code, string Text)> Put(string id, long at, byte[] piece)
    {
        using ByteArrayContent content = new(piece);
        using HttpRequestMessage request = Own(HttpMethod.Put, $"/photos/{id}?at={at}", content);
        using HttpResponseMessage answer = await Client.SendAsync(request);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }

    /// <summary>Waits until nothing is under way, and gives the photos of the list, newest first.</summary>
    public async Task<IReadOnlyList<AngleSharp.Dom.IElement>> Photos()
    {
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(2));
        while (true)
        {
            patience.Token.ThrowIfCancellationRequested();
            IHtmlDocument list = await Page(PhotographPage.ListPath);
            AngleSharp.Dom.IElement[] photos = [.. list.QuerySelectorAll("li.photo")];
            if (photos.All(photo => photo.ClassList.Contains("kept") || photo.ClassList.Contains("refused"))) return photos;
            await Task.Delay(50, patience.Token);
        }
    }

    public async ValueTask DisposeAsync()
    {
        Client.Dispose();
        _handler.Dispose();
        await Server.DisposeAsync();
        Directory.Delete(Folder, recursive: true);
    }

    /// <summary>Keeps a card by its plan.</summary>
    public static void Keep(string folder, string plan)
    {
        using CardArchive archive = CardArchive.Open(Path.Combine(folder, "archive"), TimeProvider.System).Value;
        Assert.False(archive.KeepCard(File.ReadAllBytes(plan)).IsRefused);
    }

    /// <summary>Lets this client in, as the opened browser.</summary>
    private async Task Enter()
    {
        using HttpResponseMessage answer = await Client.GetAsync(new Uri(Server.NewOpeningLink()));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Contains("url=/", Encoding.UTF8.GetString(await answer.Content.ReadAsByteArrayAsync()), StringComparison.Ordinal);
    }

    private static ArchivePlace ArchiveIn(string folder) => new(Path.Combine(folder, "archive"), TimeProvider.System);
}
