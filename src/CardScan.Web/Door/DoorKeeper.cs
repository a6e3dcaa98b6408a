using CardScan.Model;

namespace CardScan.Web;

/// <summary>Looks at every request before anything else does: where it is addressed to, who sends it, and from which page.</summary>
/// <param name="shop">What the pages share.</param>
/// <param name="entrance">Who is let in.</param>
internal sealed class DoorKeeper(Workshop shop, IEntrance entrance)
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

    /// <summary>Who sends the request; null where only the look of the pages is asked for.</summary>
    public static Guest? FindGuest(HttpContext context) => context.Items[GuestKey] as Guest;

    /// <summary>Passes the request on, or answers it.</summary>
    public async Task Look(HttpContext context, RequestDelegate next)
    {
        WriteHeaders(context.Response.Headers);
        // A foreign name that leads here keeps that name: the browser would take this page for that site's.
        if (!entrance.IsAddressed(context.Request))
        {
            await Refuse(context, StatusCodes.Status421MisdirectedRequest, "host");
            return;
        }

        // The bare look and behaviour of the pages tell nothing; the page that says "scan the code again" needs them.
        if (!IsChange(context.Request) && PageAssets.IsOne(context.Request.Path))
        {
            await next(context);
            return;
        }

        Outcome<Guest?> guest = entrance.Know(context);
        if (guest.IsRefused)
        {
            await Send(context, Shell.Closed(guest.Refusal!), Answer.StatusOf(guest.Refusal!));
            return;
        }

        using IDisposable? counted = entrance.Count(context, guest.Value);
        if (counted is null)
        {
            context.Response.Headers.RetryAfter = "10";
            await Refuse(context, StatusCodes.Status429TooManyRequests, "often");
            return;
        }

        await Pass(context, guest.Value, next);
    }

    private async Task Pass(HttpContext context, Guest? guest, RequestDelegate next)
    {
        if (IsChange(context.Request) && (guest is not null || IsEntry(context)) && !IsFromOwnPage(context.Request))
        {
            await Refuse(context, StatusCodes.Status403Forbidden, "origin");
            return;
        }

        context.Items[GuestKey] = guest;
        if (IsEntry(context) && await entrance.Enter(context, context.Request.Path.Value![EntryPath.Length..])) return;
        if (guest is null)
        {
            await Refuse(context, StatusCodes.Status403Forbidden, entrance.Outside);
            return;
        }

        shop.NoteUse();
        await next(context);
    }

    private static bool IsEntry(HttpContext context) => context.Request.Path.Value!.StartsWith(EntryPath, StringComparison.Ordinal);

    private static bool IsChange(HttpRequest request) => !HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method);

    private static bool IsFromOwnPage(HttpRequest request) =>
        request.Headers.Origin.ToString() == $"{request.Scheme}://{request.Host.Value}" && request.Headers[OwnHeader] == "1";

    private static void WriteHeaders(IHeaderDictionary headers)
    {
        headers.ContentSecurityPolicy = Policy;
        headers.XContentTypeOptions = "nosniff";
        headers.CacheControl = "no-store";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
    }

    /// <summary>Says why somebody stays outside.</summary>
    /// <param name="context">The request.</param>
    /// <param name="status">The status.</param>
    /// <param name="why">A branch of the message "web.outside".</param>
    public static Task Refuse(HttpContext context, int status, string why) => Send(context, Shell.Outside(why), status);

    /// <summary>Sends a page to somebody who is not in.</summary>
    /// <param name="context">The request.</param>
    /// <param name="page">The page.</param>
    /// <param name="status">The status.</param>
    public static Task Send(HttpContext context, string page, int status = StatusCodes.Status200OK)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/html; charset=utf-8";
        return context.Response.WriteAsync(page);
    }
}
