using System.Buffers.Binary;
using System.IO.Compression;
using System.Net;
using System.Net.Sockets;
using System.Text;
using System.Text.Json;
using AngleSharp.Dom;
using AngleSharp.Html.Dom;

namespace CardScan.Web.Tests;

/// <summary>
/// What somebody could try who is in, or sends something to somebody who is: on the page of one person and on that of a workshop.
/// </summary>
public abstract class PageAttacks
{
    /// <summary>Pages that show what people typed.</summary>
    private protected static string[] Pages { get; } =
    [
        "/", "/today", "/photograph", "/photos", "/settings", "/archive", "/compare", "/compare?first=r1&second=r1",
        "/readings/r1", "/cards/c1",
    ];

    /// <summary>Pages that only one of the two has.</summary>
    private protected abstract string[] OwnPages { get; }

    private protected static byte[] Birch => File.ReadAllBytes(ServedPage.Data("photos/birch-engrave.jpg"));

    /// <summary>A page with a browser that was let in and may do everything.</summary>
    /// <param name="cards">Files of plans whose cards the archive knows.</param>
    private protected abstract Task<ServedPage> Serve(params string[] cards);

    /// <summary>Half a byte a second: it is ended within a few seconds, others are served, and what came is not lost.</summary>
    [Fact]
    public async Task A_body_that_trickles_is_ended_and_goes_on_later()
    {
        await using ServedPage page = await Serve("photos/birch-engrave.plan.json");
        byte[] photo = Birch;
        string id = await page.Begin("slow.jpg", photo.Length);
        using TcpClient caller = new();
        await caller.ConnectAsync(IPAddress.Loopback, page.At("/").Port);
        await using NetworkStream wire = caller.GetStream();
        string cookie = page.Computer.Cookie();
        await wire.WriteAsync(Encoding.ASCII.GetBytes(
            $"PUT /photos/{id}?at=0 HTTP/1.1\r\nHost: {page.At("/").Authority}\r\nCookie: {cookie}\r\nOrigin: {page.Server.Address}\r\n"
            + $"X-CardScan: 1\r\nContent-Length: {photo.Length}\r\n\r\n"));
        await wire.WriteAsync(photo.AsMemory(0, 1000));
        Task<string> answer = new StreamReader(wire).ReadToEndAsync();
        int sent = 1000;
        using CancellationTokenSource patience = new(TimeSpan.FromMinutes(1));
        while (!answer.IsCompleted)
        {
            await Task.Delay(500, patience.Token);
            if (await Record.ExceptionAsync(() => wire.WriteAsync(photo.AsMemory(sent++, 1), patience.Token).AsTask()) is not null) break;
            Assert.Contains("<main", await page.Text("/"), StringComparison.Ordinal);
        }

        Assert.InRange(sent, 1005, 1080);
        using JsonDocument state = JsonDocument.Parse(await page.Text($"/photos/{id}"));
        int at = state.RootElement.GetProperty("at").GetInt32();
        Assert.InRange(at, 1000, sent);
        Assert.Equal(HttpStatusCode.OK, (await page.Put(id, at, photo[at..])).Code);
        Assert.Contains("kept", Assert.Single(await page.Photos()).ClassList);
    }

    [Theory]
    [InlineData("manifest.json")]
    [InlineData("files/0000000000000000000000000000000000000000000000000000000000000000.jpg")]
    public async Task A_bundle_that_unpacks_without_end_is_refused(string entry)
    {
        using MemoryStream bomb = new();
        using (ZipArchive zip = new(bomb, ZipArchiveMode.Create, leaveOpen: true))
        {
            using Stream content = zip.CreateEntry(entry, CompressionLevel.Fastest).Open();
            byte[] zeros = new byte[1 << 20];
            for (int i = 0; i < 300; i++) content.Write(zeros);
        }

        await using ServedPage page = await Serve();
        (HttpStatusCode code, string text) = await page.Computer.Deliver("bomb.zip", bomb.ToArray(), "/bundles");
        Assert.Equal(HttpStatusCode.UnprocessableEntity, code);
        Assert.Contains("bundle-", text, StringComparison.Ordinal);
        Assert.Empty(Directory.EnumerateFiles(Path.Combine(page.Folder, "archive", "inbox", "bundles")));
        Assert.Equal(0, page.Archive.Find(new()).Value.Count);
    }

    [Fact]
    public async Task A_strangers_bundle_shows_as_text_on_every_page()
    {
        await using ServedPage page = await Serve();
        (HttpStatusCode code, string text) = await page.Computer.Deliver("<script>.zip", Stranger.Bundle(page.Folder), "/bundles");
        Assert.True(code == HttpStatusCode.OK, text);
        string query = $"text={Uri.EscapeDataString(Stranger.Markup)}&thickness={Uri.EscapeDataString(Stranger.Markup)}";
        foreach (string path in (string[])
            [.. Pages, .. OwnPages, $"/archive?{query}", $"/settings?{query}", $"/compare?first={query}&second=%3Cb%3E"])
        {
            using HttpResponseMessage answer = await page.Client.GetAsync(page.At(path));
            if (path.StartsWith("/cards", StringComparison.Ordinal) && answer.StatusCode == HttpStatusCode.NotFound) continue;
            CheckText(new AngleSharp.Html.Parser.HtmlParser().ParseDocument(await answer.Content.ReadAsStringAsync()), path);
        }

        // The material's own name is there, as it was written.
        Assert.Contains(Stranger.Markup, (await page.Page("/archive")).Body!.TextContent.Replace('\u00a0', ' '), StringComparison.Ordinal);
        // What the report holds as its picture goes out as a picture and as nothing else.
        using HttpResponseMessage picture = await page.Client.GetAsync(page.At("/readings/r1/photos/0.jpg"));
        if (picture.StatusCode == HttpStatusCode.OK) Assert.Equal("image/jpeg", picture.Content.Headers.ContentType!.MediaType);
    }

    [Fact]
    public async Task A_header_of_30000_by_30000_pixels_is_refused_before_it_is_decoded()
    {
        await using ServedPage page = await Serve();
        byte[] png = Png(30_000, 30_000);
        using System.Diagnostics.Process own = System.Diagnostics.Process.GetCurrentProcess();
        long before = own.PeakWorkingSet64;
        await page.Send("huge.png", png);
        IElement photo = Assert.Single(await page.Photos());
        Assert.Equal(Codes.PhotoTooLarge, photo.QuerySelector(".code")!.TextContent);
        using HttpRequestMessage glance = page.Own(HttpMethod.Post, "/photos/look?name=huge.png", new ByteArrayContent(png));
        using HttpResponseMessage answer = await page.Client.SendAsync(glance);
        Assert.Contains(Codes.PhotoTooLarge, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        own.Refresh();
        // Decoded it has 2.7 GB. The system counts pages roughly: its peak may even have sunk a little.
        Assert.InRange(own.PeakWorkingSet64 - before, long.MinValue, 900_000_000);
    }

    [Fact]
    public async Task What_a_camera_writes_into_a_photo_is_no_markup()
    {
        await using ServedPage page = await Serve("photos/birch-engrave.plan.json");
        await page.Send("a.jpg", WithCameraText(Birch, Stranger.Markup));
        Assert.Contains("kept", Assert.Single(await page.Photos()).ClassList);
        foreach (string path in new[] { "/", "/photos", "/readings/r1" }) CheckText(await page.Page(path), path);
    }

    /// <summary>"cod", then what turns the reading direction round, then "gpj.exe": would read as a photo.</summary>
    [Theory]
    [InlineData("cod\u202egpj.exe")]
    [InlineData("\u2066a\u2069.jpg")]
    public async Task A_name_reads_as_it_is_written(string name)
    {
        await using ServedPage page = await Serve("photos/birch-engrave.plan.json");
        await page.Send(name, Birch);
        string shown = Assert.Single(await page.Photos()).QuerySelector(".name")!.TextContent;
        Assert.DoesNotContain(shown, c => char.GetUnicodeCategory(c) == System.Globalization.UnicodeCategory.Format);
        Assert.DoesNotContain((await page.Page("/readings/r1")).Body!.TextContent, c =>
            c is >= '\u202a' and <= '\u202e' or >= '\u2066' and <= '\u2069');
    }

    [Theory]
    [InlineData("OPTIONS")]
    [InlineData("TRACE")]
    [InlineData("DELETE")]
    [InlineData("PATCH")]
    [InlineData("PROPFIND")]
    public async Task A_method_that_no_page_uses_changes_nothing_and_echoes_nothing(string method)
    {
        await using ServedPage page = await Serve();
        foreach (string path in new[] { "/", "/photos", "/archive", "/phones/open", "*" })
        {
            string answer = await Raw(page,
                $"{method} {path} HTTP/1.1\r\nHost: {page.At("/").Authority}\r\nCookie: {page.Computer.Cookie()}\r\n"
                + "Origin: http://evil.example\r\nAccess-Control-Request-Method: PUT\r\nX-Echo: echoed\r\nConnection: close\r\n\r\n");
            Assert.Matches("^HTTP/1.1 40[0345] ", answer);
            Assert.DoesNotContain("Access-Control-Allow", answer, StringComparison.OrdinalIgnoreCase);
            Assert.DoesNotContain("echoed", answer, StringComparison.Ordinal);
        }

        Assert.Null(page.Server.PhoneLink);
    }

    /// <summary>Another page may name a picture of this one; the browser does not show it there.</summary>
    [Fact]
    public async Task Pictures_are_for_this_page_alone()
    {
        await using ServedPage page = await Serve("photos/birch-engrave.plan.json");
        await page.Send("a.jpg", Birch);
        await page.Photos();
        using HttpResponseMessage picture = await page.Client.GetAsync(page.At("/readings/r1/photos/0.jpg"));
        Assert.Equal(HttpStatusCode.OK, picture.StatusCode);
        Assert.Equal("same-origin", picture.Headers.GetValues("Cross-Origin-Resource-Policy").Single());
        Assert.Equal("nosniff", picture.Headers.GetValues("X-Content-Type-Options").Single());
        using HttpClient stranger = new();
        using HttpResponseMessage refused = await stranger.GetAsync(page.At("/readings/r1/photos/0.jpg"));
        Assert.Equal(HttpStatusCode.Forbidden, refused.StatusCode);
    }

    [Fact]
    public async Task A_query_without_end_is_refused_and_the_others_are_served()
    {
        await using ServedPage page = await Serve();
        foreach (int length in new[] { 4000, 7000, 20_000, 2_000_000 })
        {
            string answer = await Raw(page, $"GET /archive?text={new string('a', length)} HTTP/1.1\r\nHost: {page.At("/").Authority}\r\n"
                + $"Cookie: {page.Computer.Cookie()}\r\nConnection: close\r\n\r\n");
            Assert.Matches(length < 8000 ? "^HTTP/1.1 200 " : "^(HTTP/1.1 414 |$)", answer);
        }

        Assert.Contains("<main", await page.Text("/"), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("%00")]
    [InlineData("a%00b")]
    [InlineData("%01%02%1f")]
    [InlineData("%EF%BF%BF")]
    [InlineData("%ED%A0%80")]
    [InlineData("%FF%FE")]
    [InlineData("%22%20OR%20%22")]
    [InlineData("*%20NEAR(a%20b)%20-%20%5E")]
    [InlineData("';--")]
    [InlineData("%F0%9F%94%A5")]
    public async Task Whatever_stands_in_a_field_is_looked_for_or_refused_and_never_a_fault(string text)
    {
        await using ServedPage page = await Serve("photos/birch-engrave.plan.json");
        foreach (string path in new[]
        {
            $"/archive?text={text}&thickness={text}&process={text}&from={text}&to={text}&most={text}", $"/archive?text={text}",
            $"/settings?text={text}&thickness={text}", $"/compare?first={text}&second={text}", $"/readings/r1?cell={text}",
            $"/readings/r1/answer?full={text}&sure={text}", $"/archive/cards.csv?text={text}", $"/archive/cards.json?text={text}",
            $"/photos?x={text}",
        })
        {
            using HttpResponseMessage answer = await page.Client.GetAsync(page.At(path));
            Assert.True((int)answer.StatusCode < 500, $"{path}: {(int)answer.StatusCode} {await answer.Content.ReadAsStringAsync()}");
        }
    }

    /// <summary>Nothing runs, loads from elsewhere or leads anywhere but within the page.</summary>
    private static void CheckText(IHtmlDocument page, string path)
    {
        foreach (IElement element in page.All)
        {
            Assert.False(element.LocalName is "script"
                && element.GetAttribute("src")?.StartsWith("/look/", StringComparison.Ordinal) != true, path);
            Assert.False(element.LocalName is "style" or "iframe" or "object" or "embed" or "base", $"{path}: {element.OuterHtml}");
            foreach (IAttr attribute in element.Attributes)
            {
                Assert.False(attribute.Name.StartsWith("on", StringComparison.Ordinal) || attribute.Name == "style",
                    $"{path}: {element.OuterHtml}");
                if (attribute.Name is "href" or "src" or "action" or "data-from" or "data-to")
                    Assert.True(attribute.Value.StartsWith('/') || attribute.Value.StartsWith('#'), $"{path}: {element.OuterHtml}");
            }
        }
    }

    private static byte[] Png(int width, int height)
    {
        byte[] size = new byte[13];
        BinaryPrimitives.WriteInt32BigEndian(size, width);
        BinaryPrimitives.WriteInt32BigEndian(size.AsSpan(4), height);
        (size[8], size[9]) = (8, 2);
        using MemoryStream rows = new();
        using (ZLibStream packed = new(rows, CompressionLevel.Fastest, leaveOpen: true)) packed.Write(new byte[1 << 20]);
        return [0x89, .. "PNG\r\n\x1a\n"u8, .. Chunk("IHDR", size), .. Chunk("IDAT", rows.ToArray()), .. Chunk("IEND", [])];
    }

    private static byte[] Chunk(string name, byte[] content)
    {
        byte[] length = new byte[4], check = new byte[4], named = [.. Encoding.ASCII.GetBytes(name), .. content];
        BinaryPrimitives.WriteInt32BigEndian(length, content.Length);
        BinaryPrimitives.WriteUInt32BigEndian(check, Checksum(named));
        return [.. length, .. named, .. check];
    }

    /// <summary>CRC-32 as PNG has it (ISO/IEC 15948, annex D).</summary>
    private static uint Checksum(byte[] bytes)
    {
        uint sum = uint.MaxValue;
        foreach (byte b in bytes)
        {
            sum ^= b;
            for (int bit = 0; bit < 8; bit++) sum = (sum >> 1) ^ ((sum & 1) == 0 ? 0 : 0xEDB88320);
        }

        return ~sum;
    }

    /// <summary>The photo with a maker, a model and a description of the camera (Exif 2.3: tags 271, 272, 270), and a comment.</summary>
    private static byte[] WithCameraText(byte[] jpeg, string text)
    {
        byte[] words = [.. Encoding.UTF8.GetBytes(text), 0];
        int[] tags = [270, 271, 272];
        int end = 8 + 2 + 12 * tags.Length + 4;
        byte[] tiff = [.. "MM\0*"u8, 0, 0, 0, 8, 0, (byte)tags.Length,
            .. tags.SelectMany(tag => (byte[])[(byte)(tag >> 8), (byte)tag, 0, 2, 0, 0, 0, (byte)words.Length, 0, 0, 0, (byte)end]), 0, 0,
            0, 0, .. words];
        byte[] exif = [.. "Exif\0\0"u8, .. tiff];
        return [.. jpeg[..2], .. Segment(0xE1, exif), .. Segment(0xFE, words), .. jpeg[2..]];
    }

    private static byte[] Segment(byte marker, byte[] content) =>
        [0xFF, marker, (byte)((content.Length + 2) >> 8), (byte)(content.Length + 2), .. content];

    private protected static async Task<string> Raw(ServedPage page, string request)
    {
        using TcpClient caller = new();
        await caller.ConnectAsync(IPAddress.Loopback, page.At("/").Port);
        await using NetworkStream wire = caller.GetStream();
        try
        {
            await wire.WriteAsync(Encoding.ASCII.GetBytes(request));
            using StreamReader answer = new(wire);
            return await answer.ReadToEndAsync();
        }
        catch (IOException)
        {
            return ""; // hung up on before it had said everything
        }
    }
}
