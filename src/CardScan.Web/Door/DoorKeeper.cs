namespace CardScan.Web;

/// <summary>Looks at every request before anything else does: where it is addressed to, who sends it, and from which page.</summary>
/// <param name="shop">Knows the guests.</param>
/// <param name="hosts">The names that this server has for itself, with the port.</param>
/// <param name="isComputer">True for the address that only this computer reaches.</param>
internal sealed class DoorKeeper(Workshop shop, IReadOnlySet<string> hosts, bool isComputer)
{
    /// <summary>The way in: a code follows.</summary>
    public const string EntryPath = "/in/";

    /// <summary>A page of another origin cannot send it without asking first, and nobody answers.</summary>
    public const string OwnHeader = "X-CardScan";

    private const string Policy =
        "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src 'self'; "
        + "form-action 'self'; frame-ancestors 'none'; base-uri 'none'";

    private static readonly object GuestKey = new();

    /// <summary>Who sends the request; never asked before the keeper let it pass.</summary>
    public static Guest GuestOf(HttpContext context) => (Guest)context.Items[GuestKey]!;

    /// <summary>Passes the request on, or answers it.</summary>
    public async Task Look(HttpContext context, RequestDelegate next)
    {
        WriteHeaders(context.Response.Headers);
        // A foreign name that leads here keeps that name: the browser would take this page for that site's.
        if (!hosts.Contains(context.Request.Host.Value ?? ""))
        {
            await Refuse(context, StatusCodes.Status421MisdirectedRequest, "host");
            return;
        }

        // The bare look and behaviour of the pages tell nothing; the page that says "scan the code again" needs them.
        bool isOpen = context.Request.Path.StartsWithSegments(PageAssets.Folder, StringComparison.Ordinal)
            || context.Request.Path == PageAssets.Icon;
        string? code = context.Request.Path.Value is { } path && path.StartsWith(EntryPath, StringComparison.Ordinal)
            ? path[EntryPath.Length..] : null;
        if (code is not null && HttpMethods.IsGet(context.Request.Method))
        {
            await Enter(context, code);
            return;
        }

        Guest? guest = shop.Doorway.Know(context.Request.Cookies[CookieName(context)], isComputer);
        if (guest is null && !isOpen)
        {
            await Refuse(context, StatusCodes.Status403Forbidden, isComputer ? "computer" : "phone");
            return;
        }

        if (IsChange(context.Request) && !IsFromOwnPage(context.Request))
        {
            await Refuse(context, StatusCodes.Status403Forbidden, "origin");
            return;
        }

        context.Items[GuestKey] = guest;
        shop.NoteUse();
        await next(context);
    }

    private async Task Enter(HttpContext context, string code)
    {
        if (shop.Doorway.Enter(code, isComputer, context.Request.Headers.UserAgent.ToString()) is not { } guest)
        {
            await Refuse(context, StatusCodes.Status403Forbidden, isComputer ? "computer" : "phone");
            return;
        }

        context.Response.Cookies.Append(
            CookieName(context), guest.Key, new() { HttpOnly = true, SameSite = SameSiteMode.Strict, Path = "/" });
        shop.Bell.Ring(Topic.Guests);
        // A cookie that was set on the way from elsewhere is not sent along with a redirect: the page goes there by itself.
        await Send(context, Shell.Onward(guest.IsComputer ? "/" : "/photograph"));
    }

    private static bool IsChange(HttpRequest request) => !HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method);

    private static bool IsFromOwnPage(HttpRequest request) =>
        request.Headers.Origin.ToString() == $"{request.Scheme}://{request.Host.Value}" && request.Headers[OwnHeader] == "1";

    /// <summary>Cookies do not tell ports apart: another server on this computer may use the same name.</summary>
    private static string CookieName(HttpContext context) => $"cardscan-{context.Request.Host.Port ?? 80}";

    private static void WriteHeaders(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.CacheControl = "no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
    }

    private static Task Refuse(HttpContext context, int status, string why)
    {
        context.Response.StatusCode = status;
        return Send(context, Shell.Outside(why));
    }

    private static Task Send(HttpContext context, string page)
    {
        context.Response.ContentType = "text/html; charset=utf-8";
        return context.Response.WriteAsync(page);
    }
}
