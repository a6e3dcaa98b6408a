using System.Net;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>The page that does the whole job, on this computer and, where they are let in, on phones beside it.</summary>
public sealed class PageServer : IAsyncDisposable
{
    private readonly Workshop _shop;
    private readonly PageHost _host;
    private bool _isDisposed;

    private PageServer(Workshop shop, PageHost host) => (_shop, _host) = (shop, host);

    /// <summary>The page's address on this computer, without any code.</summary>
    public string Address => _host.Address;

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
        Workshop shop = new(request);
        Outcome<PageHost> host = await HostOnLoopback(shop, request.Port, stop);
        if (host.IsRefused)
        {
            await shop.DisposeAsync();
            return host.Refusal!;
        }

        shop.Phones = new(shop, request, host.Value.Port);
        PageServer server = new(shop, host.Value);
        if (!request.LetsPhonesIn || await shop.Phones.Open(stop) is not { } closed) return server;
        await server.DisposeAsync();
        return closed;
    }

    /// <summary>Stops: what is under way stays in the inbox and is taken up at the next start.</summary>
    public async ValueTask DisposeAsync()
    {
        if (Interlocked.Exchange(ref _isDisposed, true)) return;
        await _shop.Phones!.DisposeAsync();
        await _host.DisposeAsync();
        await _shop.DisposeAsync();
    }

    private static async Task<Outcome<PageHost>> HostOnLoopback(Workshop shop, int? port, CancellationToken stop)
    {
        Outcome<PageHost> host = await PageHost.Start(shop, new(IPAddress.Loopback, port ?? ServeRequest.UsualPort), null, stop);
        // A second archive beside the first one is nothing to stop at.
        return host.IsRefused && port is null ? await PageHost.Start(shop, new(IPAddress.Loopback, 0), null, stop) : host;
    }
}
