using System.Threading.RateLimiting;
using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>The page of a workshop: people come in by an invitation, and are known by what their browsers keep.</summary>
/// <param name="shop">Knows the members.</param>
/// <param name="page">Where the page is.</param>
internal sealed class MemberEntrance(Workshop shop, WorkshopPage page) : IEntrance, IDisposable
{
    private const int DaysRemembered = 180;

    /// <summary>A page asks some ten times; a class may join from one address at once.</summary>
    private const int AtOnce = 400, EachSecond = 20;

    /// <summary>Requests of one member that are answered side by side: two browsers hold six each, and some more.</summary>
    private const int SideBySide = 24;

    private readonly PartitionedRateLimiter<string> _limits = PartitionedRateLimiter.CreateChained(
        PartitionedRateLimiter.Create<string, string>(who => RateLimitPartition.GetTokenBucketLimiter(who, _ => new()
        {
            TokenLimit = AtOnce, TokensPerPeriod = EachSecond, ReplenishmentPeriod = TimeSpan.FromSeconds(1), QueueLimit = 0,
        })),
        PartitionedRateLimiter.Create<string, string>(who => RateLimitPartition.GetConcurrencyLimiter(who, _ => new()
        {
            PermitLimit = SideBySide, QueueLimit = 0,
        })));

    private bool IsEncrypted => page.Address.Scheme == Uri.UriSchemeHttps;

    /// <summary>A browser gives a cookie of such a name back to its own page alone, and only encrypted (RFC 6265bis).</summary>
    private string CookieName => IsEncrypted ? "__Host-cardscan" : $"cardscan-{page.Address.Port}";

    /// <inheritdoc/>
    public string Outside => "member";

    /// <inheritdoc/>
    public bool IsAddressed(HttpRequest request) =>
        request.Scheme == page.Address.Scheme
        && string.Equals(request.Host.Value, page.Address.Authority, StringComparison.OrdinalIgnoreCase);

    /// <inheritdoc/>
    public Outcome<Guest?> Know(HttpContext context)
    {
        if (context.Request.Cookies[CookieName] is not { Length: > 0 and < 100 } key) return (Guest?)null;
        Outcome<Member?> known = shop.Members.OfKey(key);
        if (known.IsRefused) return known.Refusal!;
        return known.Value is { } member
            ? new Guest((int)member.Id, key, false, DeviceOf(context), member.Joined) { Member = member }
            : null;
    }

    /// <inheritdoc/>
    public async Task<bool> Enter(HttpContext context, string code)
    {
        MemberBook book = shop.Archive.Members;
        Outcome<Invitation?> invited = book.Invited(code);
        if ((invited.Refusal ?? (invited.Value is null ? Refusal.OfInput(Codes.InvitationOver) : null)) is { } refusal)
        {
            await DoorKeeper.Send(context, Shell.Closed(refusal), Answer.StatusOf(refusal));
            return true;
        }

        // To look at an invitation uses nothing up: programs that show a link's title look at it before the person does.
        if (HttpMethods.IsGet(context.Request.Method)) await DoorKeeper.Send(context, JoinPage.Write(context.Request.Path, invited.Value!));
        else await (await Join(context, code)).ExecuteAsync(context);
        return true;
    }

    /// <inheritdoc/>
    public IDisposable? Count(HttpContext context, Guest? guest)
    {
        RateLimitLease lease = _limits.AttemptAcquire(guest is null ? $"{context.Connection.RemoteIpAddress}" : $"m{guest.Number}");
        if (lease.IsAcquired) return lease;
        lease.Dispose();
        return null;
    }

    /// <inheritdoc/>
    public void Dispose() => _limits.Dispose();

    private async Task<IResult> Join(HttpContext context, string code)
    {
        TypedFields typed = await TypedFields.Of(context);
        Outcome<JoinedMember> joined = shop.Archive.Members.Join(code, typed.Text("name") ?? "", DeviceOf(context));
        if (joined.IsRefused) return Answer.Refused(joined.Refusal!);
        context.Response.Cookies.Append(CookieName, joined.Value.Key, new()
        {
            // A link to a page in somebody's message leads there; what changes anything is asked for by the page alone.
            HttpOnly = true, SameSite = SameSiteMode.Lax, Secure = IsEncrypted, Path = "/", MaxAge = TimeSpan.FromDays(DaysRemembered),
        });
        shop.Bell.Ring(Topic.Guests);
        return Answer.Go(context, "/");
    }

    private static string DeviceOf(HttpContext context) => Guest.DeviceOf(context.Request.Headers.UserAgent.ToString());
}
