using System.Diagnostics;
using System.Net;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace CardScan.Cli.Tests;

/// <summary>The page of the native program: every way to it and every button that needs no phone.</summary>
[Collection(nameof(NativeProgram))]
public sealed partial class NativeServeTests : IAsyncLifetime, IDisposable
{
    private readonly Scratch _scratch = new();
    private readonly HttpClient _client = new(new HttpClientHandler { CookieContainer = new(), AllowAutoRedirect = false });
    private readonly Process _server;
    private string _address = "";

    public NativeServeTests(NativeProgram native)
    {
        Assert.Equal(0, native.RunIn(_scratch["."], "read", Cli.Photo, "--plan", Cli.Plan).Code);
        Assert.Equal(0, native.RunIn(_scratch["."], "read", Cli.SecondPhoto, "--plan", Cli.SecondPlan).Code);
        string browser = _scratch.Write(
            "browser.sh", $"#!/bin/sh\nprintf %s \"$1\" > '{_scratch["new"]}' && mv '{_scratch["new"]}' '{_scratch["link"]}'\n");
        if (!OperatingSystem.IsWindows()) File.SetUnixFileMode(browser, (UnixFileMode)0b111_101_101);
        ProcessStartInfo start = native.Started(_scratch["."], "serve");
        start.Environment["BROWSER"] = browser;
        _server = Process.Start(start)!;
    }

    public async Task InitializeAsync()
    {
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(1));
        while (!File.Exists(_scratch["link"]))
        {
            Assert.False(_server.HasExited, "it ended before it had begun");
            await Task.Delay(20, patience.Token);
        }

        Uri link = new(await File.ReadAllTextAsync(_scratch["link"], patience.Token));
        _address = link.GetLeftPart(UriPartial.Authority);
        using HttpResponseMessage entered = await _client.GetAsync(link);
        Assert.Equal(HttpStatusCode.OK, entered.StatusCode);
    }

    public async Task DisposeAsync()
    {
        _server.Kill();
        await _server.WaitForExitAsync();
    }

    public void Dispose()
    {
        _server.Dispose();
        _client.Dispose();
        _scratch.Dispose();
    }

    [InstalledFact("gcc")]
    public async Task Every_page_that_a_page_leads_to_is_there()
    {
        HashSet<string> seen = [];
        Queue<string> waiting = new(["/", "/today", "/photos", "/phones/list", "/cards/c1/state", "/cards/c1/history", "/compare"]);
        while (waiting.TryDequeue(out string? path))
        {
            if (!seen.Add(path) || seen.Count > 150) continue;
            using HttpResponseMessage answer = await _client.GetAsync(new Uri(_address + path));
            Assert.True(answer.StatusCode is HttpStatusCode.OK or HttpStatusCode.SeeOther, $"{path}: {answer.StatusCode}");
            if (answer.Content.Headers.ContentType?.MediaType != "text/html") continue;
            foreach (Match link in Link().Matches(await answer.Content.ReadAsStringAsync()))
                waiting.Enqueue(WebUtility.HtmlDecode(link.Groups["path"].Value));
        }

        foreach (string kind in (string[])["/cards/c1", "/readings/r2", "/archive", "/settings", "/machines", "/photograph", "/cards/new"])
            Assert.Contains(seen, path => path.StartsWith(kind, StringComparison.Ordinal));
        Assert.Contains(seen, path => path.EndsWith(".jpg", StringComparison.Ordinal));
        Assert.Contains(seen, path => path.EndsWith(".csv", StringComparison.Ordinal) || path.EndsWith(".zip", StringComparison.Ordinal));
    }

    [InstalledFact("gcc")]
    public async Task What_is_typed_and_sent_arrives()
    {
        await Post("/cards/c1/notes", ("text", "lens cleaned"));
        await Post("/cards/c1/tags", ("tag", "kitchen"));
        await Post("/cards/c1/burned");
        await Post("/cards/c1/close");
        await Post("/cards/c1/open");
        string card = await _client.GetStringAsync(new Uri($"{_address}/cards/c1"));
        Assert.Contains("lens cleaned", card, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.NotFound, await Code("/cards/c77"));
        Assert.Equal(HttpStatusCode.NotFound, await Code("/cards/many"));

        byte[] photo = await File.ReadAllBytesAsync(Cli.Photo);
        string id = Told(await Send(HttpMethod.Post, $"/photos?name=birch.jpg&size={photo.Length}")).GetProperty("id").GetString()!;
        JsonElement end = Told(await Send(HttpMethod.Put, $"/photos/{id}?at=0", new ByteArrayContent(photo)));
        Assert.True(end.GetProperty("done").GetBoolean());
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(1));
        while (!(await _client.GetStringAsync(new Uri($"{_address}/photos"), patience.Token)).Contains("kept", StringComparison.Ordinal))
            await Task.Delay(50, patience.Token);
    }

    private async Task<HttpStatusCode> Code(string path)
    {
        using HttpResponseMessage answer = await _client.GetAsync(new Uri(_address + path));
        return answer.StatusCode;
    }

    private async Task Post(string path, params (string Name, string Value)[] fields)
    {
        using FormUrlEncodedContent form = new(fields.Select(field => KeyValuePair.Create(field.Name, field.Value)));
        await Send(HttpMethod.Post, path, form);
    }

    private async Task<string> Send(HttpMethod method, string path, HttpContent? content = null)
    {
        using HttpRequestMessage request = new(method, _address + path) { Content = content };
        request.Headers.Add("Origin", _address);
        request.Headers.Add("X-CardScan", "1");
        using HttpResponseMessage answer = await _client.SendAsync(request);
        string text = await answer.Content.ReadAsStringAsync();
        Assert.True((int)answer.StatusCode < 400, $"{path}: {answer.StatusCode} {text}");
        return text;
    }

    private static JsonElement Told(string json) => JsonDocument.Parse(json).RootElement;

    [GeneratedRegex("(href|src)=\"(?<path>/[^\"#]*)", RegexOptions.ExplicitCapture, 1000)]
    private static partial Regex Link();
}
