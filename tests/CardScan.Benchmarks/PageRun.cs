using System.Diagnostics;
using System.Net;
using System.Net.Http.Json;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using CardScan.Archive;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Web;
using CardScan.Workflow;
using Microsoft.AspNetCore.Http;

namespace CardScan.Benchmarks;

/// <summary>The page asked as browsers ask it: pages with many cards in the archive, the slider, photos.</summary>
internal sealed partial class PageRun : IAsyncDisposable
{
    private const int WarmUps = 5, ReadingsPerCard = 4;

    /// <summary>What is compiled as it runs is compiled several times over, better each time; the packages' program is not.</summary>
    private const int WarmUpsOfScoring = 60;

    private readonly string _folder = Directory.CreateTempSubdirectory("cardscan-benchmark-").FullName;
    private readonly HttpClient _client = new(new SocketsHttpHandler { CookieContainer = new() });
    private PageServer _server = null!;

    private ArchivePlace Archive => new(Path.Combine(_folder, "archive"), TimeProvider.System);

    /// <summary>Pages, slider and photo, each with what it is compared with.</summary>
    public static async Task Run(int cards, int rounds)
    {
        await using PageRun run = new();
        run.Fill(cards);
        await run.Start();
        BenchmarkPhoto grid = PhotoGrowth.GridPhoto(12);
        run.Keep(grid);
        await run.Send(grid, "grid.jpg");
        string reading = run.Newest();
        run.Parts(rounds);
        await run.Pages(reading, rounds);
        await run.Time("answer of the slider, 12 x 12 cells", rounds,
            i => $"/readings/{reading}/answer?full={80 + i % 19}&sure={70 + i % 29}", WarmUpsOfScoring);
        await run.FirstPage();
        await run.Photo(BenchmarkPhoto.Given(), rounds: 15);
    }

    /// <summary>A photo sent again and again, each time another file: memory of the process as the system counts it.</summary>
    public static async Task RunInARow(int photos, BenchmarkPhoto photo)
    {
        await using PageRun run = new();
        await run.Start();
        run.Keep(photo);
        for (int i = 1; i <= photos; i++)
        {
            await run.Send(photo with { Bytes = [.. photo.Bytes, .. BitConverter.GetBytes(i)] }, $"photo{i + 3}.jpg");
            if (i is 12 or 25 || i % 50 == 0) Console.WriteLine($"{i,6} photos {PhotoGrowth.ResidentMegabytes(),8:F1} MB");
        }
    }

    public async ValueTask DisposeAsync()
    {
        _client.Dispose();
        if (_server is not null) await _server.DisposeAsync();
        Directory.Delete(_folder, recursive: true);
    }

    private void Fill(int cards)
    {
        Reading reading = Stages.Score(new Stages(BenchmarkPhoto.Given()).Read());
        using CardArchive archive = CardArchive.Open(Archive.Folder, TimeProvider.System).Value;
        ArchiveRun.Fill(archive, reading, 0, ReadingsPerCard * cards);
    }

    private async Task Start()
    {
        ServeRequest request = new(Archive, new(Path.Combine(_folder, "profiles")), TimeProvider.System) { Port = 0 };
        _server = (await PageServer.Start(request)).Value;
        using HttpResponseMessage entered = await _client.GetAsync(new Uri(_server.NewOpeningLink()));
        entered.EnsureSuccessStatusCode();
    }

    private void Keep(BenchmarkPhoto photo)
    {
        using CardArchive archive = CardArchive.Open(Archive.Folder, TimeProvider.System).Value;
        _ = archive.KeepCard(Encoding.UTF8.GetBytes(CardJson.Write(photo.Plan.Plan))).Value;
    }

    private string Newest() => ReadingEntry.NameOf(Archive.Find(new() { Most = 1 }).Value.Cards[0].NewestReadingId!.Value);

    private async Task Pages(string reading, int rounds)
    {
        Console.WriteLine($"{Archive.Find(new() { Most = 1 }).Value.Count:N0} cards; {rounds} requests each, warm: "
            + "ms from the request to its last byte");
        foreach (string path in new[]
        {
            "/", "/today", "/photograph", "/photos", "/settings", "/settings?text=wood+17", "/archive", "/archive?text=card+117+wood",
            "/compare", "/cards/new", "/machines", "/phones", $"/readings/{reading}",
        }) await Time(path, rounds, _ => path);
        await Time("/readings/..., another one each", rounds, i => $"/readings/r{1 + ReadingsPerCard * i}");
        await Time("/cards/..., another one each", rounds, i => $"/cards/c{1 + i}");
        await Time("/compare?first=...&second=...", rounds, i => $"/compare?first=r{4 + 8 * i}&second=r{8 + 8 * i}");
    }

    /// <summary>Where the time of the two lists goes.</summary>
    private void Parts(int rounds)
    {
        Outcome<SettingsBook> best = SettingsBook.Of(Archive, new());
        Measure("settings of all, asked", rounds, () => best = SettingsBook.Of(Archive, new()));
        Measure($"settings of all ({best.Value.Settings.Count}), said", rounds, () => SettingsPage.Found(best));
        Measure("settings of all, written", rounds, () => Reporting.Markup.WritePart(SettingsPage.Found(best)));
        Measure("newest 40 cards, asked", rounds, () => Archive.Find(new() { Most = 40 }));
        Measure("200 cards to choose from, asked", rounds, () => Archive.Find(new() { Most = 200 }));
        Outcome<ComparisonInput>? compared = null;
        int pair = 0;
        Measure("two cards, compared", rounds,
            () => compared = new ComparisonShelf(Archive).Take($"r{4 + 8 * pair}", $"r{8 + 8 * pair++}"));
        Measure("two cards compared, written", rounds,
            () => Markup.WritePart(new XElement("main", CardReport.ComparisonParts(compared!.Value))));
        Measure("today's list", rounds, () => Reporting.Markup.WritePart(TodayPage.List(new DefaultHttpContext(), _server.Shop)));
    }

    private static void Measure(string what, int rounds, Action work)
    {
        List<double> times = [];
        for (int i = -WarmUps; i < rounds; i++)
        {
            long begun = Stopwatch.GetTimestamp();
            work();
            if (i >= 0) times.Add(Stopwatch.GetElapsedTime(begun).TotalMilliseconds);
        }

        times.Sort();
        Console.WriteLine(
            $"  {what,-42} median {times[rounds / 2],7:F1}   95 % {times[95 * rounds / 100],7:F1}   slowest {times[^1],7:F1}");
    }

    private async Task Time(string what, int rounds, Func<int, string> path, int warmUps = WarmUps)
    {
        List<double> times = [];
        HttpStatusCode code = default;
        for (int i = -warmUps; i < rounds; i++)
        {
            long begun = Stopwatch.GetTimestamp();
            using HttpResponseMessage answer = await _client.GetAsync(new Uri(_server.Address + path(Math.Abs(i))));
            await answer.Content.ReadAsByteArrayAsync();
            if (i >= 0) times.Add(Stopwatch.GetElapsedTime(begun).TotalMilliseconds);
            code = answer.StatusCode;
        }

        times.Sort();
        Console.WriteLine($"  {what,-42} median {times[rounds / 2],7:F1}   95 % {times[95 * rounds / 100],7:F1}   "
            + $"slowest {times[^1],7:F1}   {(int)code}");
    }

    private async Task FirstPage()
    {
        string page = await _client.GetStringAsync(new Uri($"{_server.Address}/"));
        int all = Encoding.UTF8.GetByteCount(page);
        Console.Write($"first page: {all:N0} bytes");
        foreach (string address in Look().Matches(page).Select(match => match.Value).Distinct())
        {
            byte[] part = await _client.GetByteArrayAsync(new Uri(_server.Address + address));
            all += part.Length;
            Console.Write($" + {Path.GetExtension(address)} {part.Length:N0}");
        }

        Console.WriteLine($" = {all:N0} bytes");
    }

    /// <summary>
    /// From the last byte of a photo to the result on a page that listens, against reading it in this process; turn by turn.
    /// </summary>
    private async Task Photo(BenchmarkPhoto photo, int rounds)
    {
        Keep(photo);
        string own = Path.Combine(_folder, "own.jpg");
        ArchivePlace other = new(Path.Combine(_folder, "other"), TimeProvider.System);
        using (CardArchive archive = CardArchive.Open(other.Folder, TimeProvider.System).Value)
            _ = archive.KeepCard(Encoding.UTF8.GetBytes(CardJson.Write(photo.Plan.Plan))).Value;
        List<double> served = [], read = [];
        string id = "";
        for (int i = -3; i < rounds; i++)
        {
            byte[] bytes = [.. photo.Bytes, .. BitConverter.GetBytes(i)];
            // With those before it, each would be one photo more of the card.
            _server.Shop.Desk.BeginAnew(id, photo.Plan.Plan.Number);
            (double page, id) = await Send(photo with { Bytes = bytes }, $"photo{i + 3}.jpg");
            await File.WriteAllBytesAsync(own, bytes);
            long begun = Stopwatch.GetTimestamp();
            ReadCardsResult result = ReadCards.Run(new() { Photos = [own], Archive = other }).Value;
            double alone = Stopwatch.GetElapsedTime(begun).TotalMilliseconds;
            if (result.Cards is not [{ Kept.IsRefused: false }]) throw new InvalidOperationException("The photo was not kept.");
            if (i < 0) continue;
            served.Add(page);
            read.Add(alone);
        }

        double[] ratios = [.. served.Zip(read, (page, alone) => page / alone).Order()];
        Console.WriteLine($"photo of {photo.Bytes.Length / 1e6:F1} MB, {rounds} rounds, medians: last byte to the result on a page "
            + $"{Median(served):F0} ms, read in the same process {Median(read):F0} ms, ratio {ratios[rounds / 2]:F2} "
            + $"(middle half {ratios[rounds / 4]:F2} to {ratios[3 * rounds / 4]:F2})");
    }

    /// <summary>Sends a photo; ms from its last byte until a page that listens has the result, and the photo's id.</summary>
    private async Task<(double Ms, string Id)> Send(BenchmarkPhoto photo, string name)
    {
        using Stream bell = await _client.GetStreamAsync(new Uri($"{_server.Address}/changes"));
        using StreamReader heard = new(bell);
        while (!(await heard.ReadLineAsync())!.Contains("ready", StringComparison.Ordinal)) { }
        JsonElement state = await Own(HttpMethod.Post, $"/photos?name={name}&size={photo.Bytes.Length}", null);
        string id = state.GetProperty("id").GetString()!;
        int most = photo.Bytes.Length - 1;
        for (int at = 0; at < most; at += 1 << 20)
            await Own(HttpMethod.Put, $"/photos/{id}?at={at}", photo.Bytes[at..Math.Min(most, at + (1 << 20))]);
        long begun = Stopwatch.GetTimestamp();
        await Own(HttpMethod.Put, $"/photos/{id}?at={most}", photo.Bytes[most..]);
        Task rung = Rung(heard);
        while (true)
        {
            string list = await _client.GetStringAsync(new Uri($"{_server.Address}/photos"));
            int named = list.IndexOf($">{name}<", StringComparison.Ordinal);
            string item = named < 0 ? "" : list[list.LastIndexOf("<li class=\"photo ", named, StringComparison.Ordinal)..named];
            if (item.Contains("photo kept", StringComparison.Ordinal)) return (Stopwatch.GetElapsedTime(begun).TotalMilliseconds, id);
            if (item.Contains("photo refused", StringComparison.Ordinal) || Stopwatch.GetElapsedTime(begun) > TimeSpan.FromMinutes(1))
                throw new InvalidOperationException(list);
            await Task.WhenAny(rung, Task.Delay(1000));
            if (rung.IsCompleted) rung = Rung(heard);
        }
    }

    private static async Task Rung(StreamReader heard)
    {
        while (!(await heard.ReadLineAsync())!.Contains("data: photos", StringComparison.Ordinal)) { }
    }

    private async Task<JsonElement> Own(HttpMethod method, string path, byte[]? body)
    {
        using HttpRequestMessage request = new(method, _server.Address + path) { Content = body is null ? null
            : new ByteArrayContent(body) };
        request.Headers.Add("Origin", _server.Address);
        request.Headers.Add(DoorKeeper.OwnHeader, "1");
        using HttpResponseMessage answer = await _client.SendAsync(request);
        if (!answer.IsSuccessStatusCode) throw new InvalidOperationException(await answer.Content.ReadAsStringAsync());
        return await answer.Content.ReadFromJsonAsync<JsonElement>();
    }

    private static double Median(IEnumerable<double> values) => values.Order().ElementAt(values.Count() / 2);

    [GeneratedRegex("/look/[0-9a-f]+\\.[a-z]+")]
    private static partial Regex Look();
}
