using CardScan.Model;

namespace CardScan.Web;

/// <summary>
/// Which role a route takes. Whatever is not marked may be looked at by everybody who is in, and changed by those who keep.
/// </summary>
internal static class RouteRoles
{
    /// <summary>Marks a route.</summary>
    /// <param name="route">The route.</param>
    /// <param name="least">The role that it takes.</param>
    public static void For(this IEndpointConventionBuilder route, MemberRole least) => route.WithMetadata(new Least(least));

    /// <summary>Passes the request on where the role of its sender is enough.</summary>
    /// <param name="context">The request; its route is known.</param>
    /// <param name="next">What answers it.</param>
    public static Task Check(HttpContext context, RequestDelegate next)
    {
        if (DoorKeeper.FindGuest(context) is not { } guest || guest.May(LeastFor(context))) return next(context);
        Refusal refusal = Refusal.OfInput(Codes.MemberRoleTooLow);
        IResult answer = Answer.IsForPart(context) ? Answer.Refused(refusal) : Answer.RefusedPage(context, refusal);
        return answer.ExecuteAsync(context);
    }

    private static MemberRole LeastFor(HttpContext context)
    {
        if (context.GetEndpoint()?.Metadata.GetMetadata<Least>() is { } marked) return marked.Role;
        return HttpMethods.IsGet(context.Request.Method) || HttpMethods.IsHead(context.Request.Method) ? MemberRole.Look : MemberRole.Keep;
    }

    private sealed record Least(MemberRole Role);
}
