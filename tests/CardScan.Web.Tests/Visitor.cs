using System.Globalization;
using System.Net;
using System.Net.Http.Json;
using System.Net.Sockets;
using System.Text.Json;
using AngleSharp.Html.Dom;
using AngleSharp.Html.Parser;

namespace CardScan.Web.Tests;

/// <summary>
/// A browser that asks a server, without showing anything: its cookie, and where asked for the headers of the page's script.
/// </summary>
internal sealed class Visitor : IDisposable
{
    private readonly SocketsHttpHandler _handler = new()
    {
        CookieContainer = new(), AllowAutoRedirect = false, ConnectCallback = ConnectHere,
    };

    /// <param name="address">The server's address, without a slash at the end; whatever name it has, it is this computer.</param>
    public Visitor(string address) => (Address, Client) = (address, new(new WordsHeard(_handler)));

    public string Address { get; }

    public HttpClient Client { get; }

    /// <summary>Somebody who came by a link with a code.</summary>
    public static async Task<Visitor> By(string link)
    {
        Visitor visitor = new(new Uri(link).GetLeftPart(UriPartial.Authority));
        using HttpResponseMessage answer = await visitor.Client.GetAsync(new Uri(link));
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return visitor;
    }

    /// <summary>The cookie as its header has it.</summary>
    public string Cookie() => _handler.CookieContainer.GetCookieHeader(new(Address));

    public Uri At(string path) => new(Address + path);

    public async Task<string> Text(string path)
    {
        using HttpResponseMessage answer = await Client.GetAsync(At(path));
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True(answer.StatusCode == HttpStatusCode.OK, $"{path}: {(int)answer.StatusCode} {text}");
        return text;
    }

    public async Task<IHtmlDocument> Page(string path) => new HtmlParser().ParseDocument(await Text(path));

    public async Task<HttpStatusCode> Code(string path)
    {
        using HttpResponseMessage answer = await Client.GetAsync(At(path));
        return answer.StatusCode;
    }

    /// <summary>Asks as the page's own script does.</summary>
    public HttpRequestMessage Own(HttpMethod method, string path, HttpContent? content = null)
    {
        HttpRequestMessage request = new(method, At(path)) { Content = content };
        request.Headers.Add("Origin", Address);
        request.Headers.Add(DoorKeeper.OwnHeader, "1");
        return request;
    }

    public async Task<HttpResponseMessage> Post(string path, params (string Name, string Value)[] fields)
    {
        using FormUrlEncodedContent form = new(fields.Select(field => KeyValuePair.Create(field.Name, field.Value)));
        using HttpRequestMessage request = Own(HttpMethod.Post, path, form);
        return await Client.SendAsync(request);
    }

    /// <summary>Sends a file as the page does; gives what the server says at its end.</summary>
    public async Task<(HttpStatusCode Code, string Text)> Deliver(string name, byte[] bytes, string to = "/photos", int piece = 1 << 20)
    {
        string id = await Begin(name, bytes.Length, to);
        (HttpStatusCode Code, string Text) end = default;
        for (int at = 0; at < bytes.Length; at += piece)
        {
            end = await Put(id, at, bytes[at..Math.Min(bytes.Length, at + piece)], to);
            if (end.Code != HttpStatusCode.OK) return end;
        }

        return end;
    }

    /// <summary>Sends a file as the page does; gives the photo's id.</summary>
    public async Task<string> Send(string name, byte[] bytes, int piece = 1 << 20)
    {
        (HttpStatusCode code, string text) = await Deliver(name, bytes, piece: piece);
        Assert.True(code == HttpStatusCode.OK, text);
        return JsonDocument.Parse(text).RootElement.GetProperty("id").GetString()!;
    }

    public async Task<string> Begin(string name, long size, string to = "/photos")
    {
        string asked = string.Create(CultureInfo.InvariantCulture, $"{to}?name={Uri.EscapeDataString(name)}&size={size}");
        using HttpRequestMessage request = Own(HttpMethod.Post, asked);
        using HttpResponseMessage answer = await Client.SendAsync(request);
        Assert.True(answer.StatusCode == HttpStatusCode.OK, await answer.Content.ReadAsStringAsync());
        JsonElement told = await answer.Content.ReadFromJsonAsync<JsonElement>();
        return told.GetProperty("id").GetString()!;
    }

    public async Task<(HttpStatusCode Code, string Text)> Put(string id, long at, byte[] piece, string to = "/photos")
    {
        using ByteArrayContent content = new(piece);
        using HttpRequestMessage request = Own(HttpMethod.Put, string.Create(CultureInfo.InvariantCulture, $"{to}/{id}?at={at}"), content);
        using HttpResponseMessage answer = await Client.SendAsync(request);
        return (answer.StatusCode, await answer.Content.ReadAsStringAsync());
    }

    /// <summary>Waits until nothing is under way, and gives the photos of the list, newest first.</summary>
    public async Task<IReadOnlyList<AngleSharp.Dom.IElement>> Photos()
    {
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(4));
        while (true)
        {
            patience.Token.ThrowIfCancellationRequested();
            AngleSharp.Dom.IElement[] photos = [.. (await Page(PhotographPage.ListPath)).QuerySelectorAll("li.photo")];
            if (photos.All(photo => photo.ClassList.Contains("kept") || photo.ClassList.Contains("refused"))) return photos;
            await Task.Delay(50, patience.Token);
        }
    }

    public void Dispose()
    {
        Client.Dispose();
        _handler.Dispose();
    }

    private static async ValueTask<Stream> ConnectHere(SocketsHttpConnectionContext context, CancellationToken stop)
    {
        Socket socket = new(SocketType.Stream, ProtocolType.Tcp) { NoDelay = true };
        try
        {
            await socket.ConnectAsync(IPAddress.Loopback, context.DnsEndPoint.Port, stop);
            return new NetworkStream(socket, ownsSocket: true);
        }
        catch
        {
            socket.Dispose();
            throw;
        }
    }
}
