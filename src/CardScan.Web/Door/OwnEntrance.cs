using System.Collections.Concurrent;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>The page of one person: this computer comes in by the code that its terminal shows, a phone by the code on the page.</summary>
/// <param name="shop">Knows the guests.</param>
/// <param name="isComputer">True for the address that only this computer reaches.</param>
internal sealed class OwnEntrance(Workshop shop, bool isComputer) : IEntrance, IDisposable
{
    private readonly ConcurrentBag<string> _hosts = [];

    /// <inheritdoc/>
    public string Outside => isComputer ? "computer" : "phone";

    /// <summary>Adds a name that browsers have for the page, with the port.</summary>
    public void Add(string host) => _hosts.Add(host);

    /// <inheritdoc/>
    public bool IsAddressed(HttpRequest request) => _hosts.Contains(request.Host.Value);

    /// <inheritdoc/>
    public Outcome<Guest?> Know(HttpContext context) => shop.Doorway.Know(context.Request.Cookies[CookieName(context)], isComputer);

    /// <inheritdoc/>
    public async Task<bool> Enter(HttpContext context, string code)
    {
        if (!HttpMethods.IsGet(context.Request.Method)) return false;
        if (shop.Doorway.Enter(code, isComputer, context.Request.Headers.UserAgent.ToString()) is not { } guest)
        {
            await DoorKeeper.Refuse(context, StatusCodes.Status403Forbidden, Outside);
            return true;
        }

        context.Response.Cookies.Append(
            CookieName(context), guest.Key, new() { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/" });
        shop.Bell.Ring(Topic.Guests);
        // A cookie that was set on the way from elsewhere is not sent along with a redirect: the page goes there by itself.
        await DoorKeeper.Send(context, Shell.Onward(guest.IsComputer ? "/" : PhotographPage.Path));
        return true;
    }

    /// <summary>One person's own devices are not counted.</summary>
    public IDisposable Count(HttpContext context, Guest? guest) => this;

    /// <inheritdoc/>
    public void Dispose()
    {
        // Nothing was counted.
    }

    /// <summary>Cookies do not tell ports apart: another server on this computer may use the same name.</summary>
    private static string CookieName(HttpContext context) => $"cardscan-{context.Request.Host.Port ?? 80}";
}
