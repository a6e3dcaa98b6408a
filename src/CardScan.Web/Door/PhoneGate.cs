using System.Net;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>The way in for phones: one private address beside the computer's own, opened when it is wanted.</summary>
/// <param name="shop">What the pages share.</param>
/// <param name="request">Names the address, where one is given.</param>
/// <param name="port">The port that the computer's own page has; phones get the same where it is free.</param>
internal sealed class PhoneGate(Workshop shop, ServeRequest request, int port) : IAsyncDisposable
{
    private readonly SemaphoreSlim _turn = new(1, 1);
    private PageHost? _host;

    /// <summary>The address with the code for the next phone; null while phones are kept out.</summary>
    public string? Link => _host is { } host ? $"{host.Address}{DoorKeeper.EntryPath}{shop.Doorway.PhoneCode()}" : null;

    /// <summary>Opens the way.</summary>
    /// <param name="stop">Gives up.</param>
    /// <returns>Null when it is open; or why it stays closed.</returns>
    public async Task<Refusal?> Open(CancellationToken stop)
    {
        await _turn.WaitAsync(stop);
        try
        {
            if (_host is not null) return null;
            if ((request.PhoneAddress ?? LocalNetwork.Address()) is not { } address) return Refusal.OfPlace(Codes.NoPrivateAddress);
            if (!LocalNetwork.IsPrivate(address)) return Refusal.OfInput(Codes.AddressNotPrivate, ("address", $"{address}"));
            IPEndPoint at = new(address, IPAddress.IsLoopback(address) ? 0 : port);
            Outcome<PageHost> host = await PageHost.Start(shop, at, request.PhoneHost ?? $"{address}", stop);
            if (host.IsRefused) return host.Refusal;
            _host = host.Value;
            shop.Bell.Ring(Topic.Guests);
            return null;
        }
        finally
        {
            _turn.Release();
        }
    }

    /// <summary>Closes it; every phone is sent away.</summary>
    public async ValueTask DisposeAsync()
    {
        await _turn.WaitAsync();
        try
        {
            if (_host is null) return;
            foreach (Guest phone in shop.Doorway.Guests.Where(guest => !guest.IsComputer)) shop.Doorway.SendAway(phone.Number);
            await _host.DisposeAsync();
            _host = null;
            shop.Bell.Ring(Topic.Guests);
        }
        finally
        {
            _turn.Release();
        }
    }
}
