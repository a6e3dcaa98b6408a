using System.Net;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>The page that does the whole job, on this computer and, where they are let in, on phones beside it.</summary>
public sealed class PageServer : IAsyncDisposable
{
    private static readonly TimeSpan LongestLook = TimeSpan.FromMinutes(1);

    private readonly Workshop _shop;
    private readonly PageHost _host;
    private readonly FileStream? _place;
    private bool _isDisposed;

    /// <summary>What systems call a file that another process holds: EWOULDBLOCK twice, ERROR_SHARING_VIOLATION.</summary>
    private const int HeldOnLinux = 11, HeldOnMac = 35, HeldOnWindows = 32;

    private PageServer(Workshop shop, PageHost host, FileStream? place) => (_shop, _host, _place) = (shop, host, place);

    /// <summary>What its pages share.</summary>
    internal Workshop Shop => _shop;

    /// <summary>The page's address on this computer, without any code.</summary>
    public string Address => _host.Address;

    /// <summary>The port that this program listens on.</summary>
    public int Port => _host.Port;

    /// <summary>The address with the code that lets browsers of this computer in; to be shown to nobody else.</summary>
    public string ComputerLink => $"{Address}{DoorKeeper.EntryPath}{_shop.Doorway.ComputerCode}";

    /// <summary>The address with a code that lets one browser of this computer in, once.</summary>
    public string NewOpeningLink() => $"{Address}{DoorKeeper.EntryPath}{_shop.Doorway.NewOpeningCode()}";

    /// <summary>The address with the code that lets the next phone in; null while phones are kept out.</summary>
    public string? PhoneLink => _shop.Phones?.Link;

    /// <summary>A link as a code to scan, in half blocks: 41 columns and 21 lines for a usual one.</summary>
    /// <param name="link">The link.</param>
    /// <returns>The lines; light blocks on a dark terminal, so that the code is dark on light as scanners want it.</returns>
    public static string CodeAsText(string link) => LinkCode.Of(link).ToText();

    /// <summary>Starts serving.</summary>
    /// <param name="request">What is served, and to whom.</param>
    /// <param name="stop">Gives up starting.</param>
    /// <returns>The server, to be disposed of; or why the page cannot be served.</returns>
    /// <exception cref="ArgumentNullException">There is no request.</exception>
    public static async Task<Outcome<PageServer>> Start(ServeRequest request, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(request);
        // A disk that is full or read-only keeps nobody from looking things up; the pages tell it where something is to be kept.
        if (request.Archive.Prepare() is { Kind: RefusalKind.WrongInput } refusal) return refusal;
        Outcome<FileStream?> place = TakePlace(request.Archive.Folder);
        if (place.IsRefused) return place.Refusal!;
        Workshop shop = new(request);
        Outcome<PageHost> host = request.Page is { } page
            ? await PageHost.Start(shop, page, request.Port ?? ServeRequest.UsualPort, stop)
            : await HostOnLoopback(shop, request.Port, stop);
        if (host.IsRefused)
        {
            await shop.DisposeAsync();
            if (place.Value is { } free) await free.DisposeAsync();
            return host.Refusal!;
        }

        shop.Phones = new(shop, request, host.Value.Port);
        PageServer server = new(shop, host.Value, place.Value);
        if (!request.LetsPhonesIn || await shop.Phones.Open(stop) is not { } closed) return server;
        await server.DisposeAsync();
        return closed;
    }

    /// <summary>Ends when nobody has asked for anything for a while and no photo is under way.</summary>
    /// <param name="patience">How long that while is.</param>
    /// <param name="stop">Ends it before that.</param>
    public async Task WaitUntilUnused(TimeSpan patience, CancellationToken stop)
    {
        TimeSpan left;
        while ((left = patience - _shop.Quiet) > TimeSpan.Zero) await Task.Delay(left < LongestLook ? left : LongestLook, stop);
    }

    /// <summary>Stops: what is under way stays in the inbox and is taken up at the next start.</summary>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _isDisposed, true)) return;
        await _shop.Phones!.DisposeAsync();
        await _host.DisposeAsync();
        await _shop.DisposeAsync();
        if (_place is not null) await _place.DisposeAsync();
    }

    /// <summary>
    /// Holds a file as long as an archive is served: a second server would sweep away what is on its way to the first. Null where
    /// nothing can be written: then nothing comes in either.
    /// </summary>
    private static Outcome<FileStream?> TakePlace(string folder)
    {
        try
        {
            Directory.CreateDirectory(folder);
            return new FileStream(Path.Combine(folder, "serve.lock"), FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.None);
        }
        catch (IOException e) when ((e.HResult & 0xFFFF) is HeldOnLinux or HeldOnMac or HeldOnWindows)
        {
            return Refusal.OfPlace(Codes.ArchiveServed, ("folder", folder));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return (FileStream?)null;
        }
    }

    private static async Task<Outcome<PageHost>> HostOnLoopback(Workshop shop, int? port, CancellationToken stop)
    {
        Outcome<PageHost> host = await PageHost.Start(shop, new(IPAddress.Loopback, port ?? ServeRequest.UsualPort), null, stop);
        // A second archive beside the first one is nothing to stop at.
        return host.IsRefused && port is null ? await PageHost.Start(shop, new(IPAddress.Loopback, 0), null, stop) : host;
    }
}
