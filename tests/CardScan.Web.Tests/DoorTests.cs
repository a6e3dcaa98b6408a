using System.Net;
using System.Net.Sockets;
using System.Text;

namespace CardScan.Web.Tests;

/// <summary>Who is let in, and what a stranger can do: nothing.</summary>
public class DoorTests
{
    private static readonly string[] Pages = ["/", "/photograph", "/photos", "/phones", "/changes", "/readings/r1", "/cards/new"];

    [Fact]
    public async Task Nobody_gets_a_page_without_a_key()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpClient stranger = new();
        foreach (string path in Pages)
        {
            using HttpResponseMessage answer = await stranger.GetAsync(page.At(path));
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        }
    }

    [Fact]
    public async Task An_old_key_opens_nothing_after_a_restart()
    {
        await using ServedPage page = await ServedPage.Start();
        string old = page.Server.ComputerLink;
        await page.Server.DisposeAsync();
        PageServer anew = await ServedPage.StartIn(page.Folder);
        await using (anew)
        {
            using HttpClient stranger = new();
            using HttpResponseMessage answer = await stranger.GetAsync(new Uri(anew.Address + new Uri(old).AbsolutePath));
            Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        }
    }

    [Fact]
    public async Task The_code_that_the_browser_was_opened_with_is_good_once()
    {
        await using ServedPage page = await ServedPage.Start();
        string link = page.Server.NewOpeningLink();
        using HttpClient first = new(), second = new();
        using HttpResponseMessage let = await first.GetAsync(new Uri(link)), refused = await second.GetAsync(new Uri(link));
        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.Forbidden), (let.StatusCode, refused.StatusCode));
    }

    /// <summary>A name of a stranger that leads to this computer keeps that name in the request (DNS rebinding).</summary>
    [Theory]
    [InlineData("evil.example")]
    [InlineData("evil.example:4180")]
    [InlineData("127.0.0.1")]
    [InlineData("127.0.0.1:1")]
    [InlineData("[::1]:4180")]
    public async Task A_foreign_host_is_turned_away_with_the_right_key_too(string host)
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpRequestMessage request = new(HttpMethod.Get, page.At("/"));
        request.Headers.Host = host;
        using HttpResponseMessage answer = await page.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.MisdirectedRequest, answer.StatusCode);
    }

    [Theory]
    [InlineData(null, "1")]
    [InlineData("null", "1")]
    [InlineData("http://evil.example", "1")]
    [InlineData("https://{own}", "1")]
    [InlineData("http://{own}.evil.example", "1")]
    [InlineData("http://{own}", null)]
    [InlineData("http://{own}", "0")]
    public async Task Nothing_is_changed_from_another_page(string? origin, string? own)
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpRequestMessage request = new(HttpMethod.Post, page.At("/photos?name=a.jpg&size=10"));
        if (origin is not null) request.Headers.Add("Origin", origin.Replace("{own}", page.At("/").Authority, StringComparison.Ordinal));
        if (own is not null) request.Headers.Add(DoorKeeper.OwnHeader, own);
        using HttpResponseMessage answer = await page.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.False(Directory.Exists(Path.Combine(page.Folder, "archive", "inbox")));
    }

    [Theory]
    [InlineData("/..%2f..%2fetc/passwd")]
    [InlineData("/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("/look/..%2f..%2f..%2fetc%2fpasswd")]
    [InlineData("/photos/..%2f..%2fdatabase")]
    [InlineData("/readings/r1%2f..%2f..%2fx")]
    [InlineData("/readings/r1/photos/..%5c..%5cx.jpg")]
    [InlineData("/readings/r99999999999999999999")]
    [InlineData("/readings/r-1")]
    [InlineData("/photos/00000000000000000000000000000000/../../x")]
    public async Task A_path_is_no_way_to_a_file(string path)
    {
        await using ServedPage page = await ServedPage.Start();
        // Sent as it stands: a client's own library would tidy it up.
        string answer = await Raw(page, $"GET {path} HTTP/1.1\r\nHost: {page.At("/").Authority}\r\n"
            + $"Cookie: {await Cookie(page)}\r\nConnection: close\r\n\r\n");
        Assert.Matches("^HTTP/1.1 40[04] ", answer);
        Assert.DoesNotContain("root:", answer, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Every_answer_forbids_what_the_pages_do_not_need()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpClient stranger = new();
        foreach (HttpClient client in new[] { page.Client, stranger })
        {
            using HttpResponseMessage answer = await client.GetAsync(page.At("/photograph"));
            string policy = answer.Headers.GetValues("Content-Security-Policy").Single();
            Assert.StartsWith("default-src 'none'; script-src 'self';", policy, StringComparison.Ordinal);
            Assert.DoesNotContain("unsafe", policy, StringComparison.Ordinal);
            Assert.Equal("nosniff", answer.Headers.GetValues("X-Content-Type-Options").Single());
            Assert.Equal("no-referrer", answer.Headers.GetValues("Referrer-Policy").Single());
            Assert.True(answer.Headers.CacheControl!.NoStore);
            Assert.False(answer.Headers.Contains("Server"));
        }
    }

    [Fact]
    public async Task The_cookie_is_for_this_server_and_not_for_scripts()
    {
        await using ServedPage page = await ServedPage.Start();
        using HttpClientHandler plain = new() { UseCookies = false };
        using HttpClient client = new(plain);
        using HttpResponseMessage answer = await client.GetAsync(new Uri(page.Server.NewOpeningLink()));
        string cookie = answer.Headers.GetValues("Set-Cookie").Single();
        Assert.StartsWith($"cardscan-{page.At("/").Port}=", cookie, StringComparison.Ordinal);
        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=strict", cookie, StringComparison.OrdinalIgnoreCase);
    }

    /// <summary>More than any photo has in one piece.</summary>
    [Fact]
    public async Task A_body_of_41_megabytes_is_refused()
    {
        await using ServedPage page = await ServedPage.Start();
        string id = await page.Begin("large.jpg", 60_000_000);
        using HttpRequestMessage request = page.Own(HttpMethod.Put, $"/photos/{id}?at=0", new ByteArrayContent(new byte[41_000_000]));
        request.Headers.ExpectContinue = true;
        using HttpResponseMessage answer = await page.Client.SendAsync(request);
        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    [Fact]
    public async Task A_million_headers_end_the_connection_and_nothing_else()
    {
        await using ServedPage page = await ServedPage.Start();
        using TcpClient caller = new();
        await caller.ConnectAsync(IPAddress.Loopback, page.At("/").Port);
        await using NetworkStream wire = caller.GetStream();
        await wire.WriteAsync(Encoding.ASCII.GetBytes($"GET / HTTP/1.1\r\nHost: {page.At("/").Authority}\r\n"));
        byte[] headers = Encoding.ASCII.GetBytes(string.Concat(Enumerable.Range(0, 1000).Select(i => $"X-{i}: {i}\r\n")));
        Exception? ended = await Record.ExceptionAsync(async () =>
        {
            for (int i = 0; i < 1000; i++) await wire.WriteAsync(headers);
        });
        Assert.IsType<IOException>(ended);
        Assert.Contains("<main", await page.Text("/"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_hundred_callers_that_say_nothing_lock_nobody_out_for_good()
    {
        await using ServedPage page = await ServedPage.Start();
        List<TcpClient> callers = [];
        for (int i = 0; i < 200; i++)
        {
            TcpClient caller = new();
            await caller.ConnectAsync(IPAddress.Loopback, page.At("/").Port);
            callers.Add(caller);
        }

        foreach (TcpClient caller in callers) caller.Dispose();
        using CancellationTokenSource patience = new(TimeSpan.FromSeconds(30));
        while (true)
        {
            try
            {
                Assert.Contains("<main", await page.Client.GetStringAsync(page.At("/"), patience.Token), StringComparison.Ordinal);
                return;
            }
            catch (HttpRequestException)
            {
                await Task.Delay(100, patience.Token);
            }
        }
    }

    private static async Task<string> Cookie(ServedPage page)
    {
        using HttpClientHandler plain = new() { UseCookies = false };
        using HttpClient client = new(plain);
        using HttpResponseMessage answer = await client.GetAsync(new Uri(page.Server.NewOpeningLink()));
        return answer.Headers.GetValues("Set-Cookie").Single().Split(';')[0];
    }

    private static async Task<string> Raw(ServedPage page, string request)
    {
        using TcpClient caller = new();
        await caller.ConnectAsync(IPAddress.Loopback, page.At("/").Port);
        await using NetworkStream wire = caller.GetStream();
        await wire.WriteAsync(Encoding.ASCII.GetBytes(request));
        using StreamReader answer = new(wire);
        return await answer.ReadToEndAsync();
    }
}
