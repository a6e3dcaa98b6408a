using System.Net;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>The page of a workshop: people reach it through a proxy that encrypts, and are let in by invitation.</summary>
/// <param name="Address">Where browsers find it: <c>https://cards.example.org</c>.</param>
public sealed record WorkshopPage(Uri Address)
{
    /// <summary>The address on which the proxy reaches this program.</summary>
    public IPAddress Listen { get; init; } = IPAddress.Loopback;

    /// <summary>The proxies, by address or network: what anybody else says of where a request came from is not believed.</summary>
    public ValueList<IPNetwork> Proxies { get; init; } = [new(IPAddress.Loopback, 32), new(IPAddress.IPv6Loopback, 128)];

    /// <summary>Where somebody joins with a code.</summary>
    /// <param name="code">The code.</param>
    public string LinkOf(string code) => $"{Address.GetLeftPart(UriPartial.Authority)}{DoorKeeper.EntryPath}{code}";

    /// <summary>The page at an address that a person typed.</summary>
    /// <param name="address">The address.</param>
    /// <returns>The page; or what is wrong with the address.</returns>
    public static Outcome<WorkshopPage> At(string address)
    {
        if (!Uri.TryCreate(address, UriKind.Absolute, out Uri? uri) || uri.AbsolutePath != "/"
            || uri.Query + uri.Fragment + uri.UserInfo != "")
            return Refusal.OfInput(Codes.PageAddress, ("address", address));
        bool isPrivate = uri.Scheme == Uri.UriSchemeHttp && uri.IsLoopback;
        if (uri.Scheme != Uri.UriSchemeHttps && !isPrivate) return Refusal.OfInput(Codes.PageUnencrypted, ("address", address));
        return new WorkshopPage(uri);
    }
}
