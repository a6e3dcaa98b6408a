using CardScan.Model;

namespace CardScan.Web;

/// <summary>Photos: sent, looked at, listed.</summary>
internal static class PhotoRoutes
{
    /// <summary>No photo is larger, bytes; the command line takes no larger ones either.</summary>
    private const long MostBytes = 101L * 1000 * 1000;

    /// <summary>Small copies that are looked at side by side; the photos themselves go first.</summary>
    private static readonly SemaphoreSlim Glances = new(2);

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet(PhotographPage.Path, (HttpContext context) => Answer.Page(PhotographPage.Write(context, shop)));
        routes.MapGet(PhotographPage.ListPath, (HttpContext context) => Answer.Part(PhotographPage.List(context, shop)));
        routes.MapGet($"{PhotographPage.ListPath}/{{id:guid}}/small.jpg",
            (HttpContext context, Guid id) => Small(context, shop, $"{id:N}"));
        routes.MapPost($"{PhotographPage.ListPath}/{{id:guid}}/anew/{{card:int}}", (HttpContext context, Guid id, int card) =>
        {
            if (shop.Desk.JobsOf(DoorKeeper.GuestOf(context)).Any(job => job.Id == $"{id:N}")) shop.Desk.BeginAnew($"{id:N}", card);
            return Answer.Part(PhotographPage.List(context, shop));
        }).For(MemberRole.Add);
        routes.MapPost($"{PhotographPage.ListPath}/look", (HttpContext context, string name) => Look(context, shop, name))
            .For(MemberRole.Add);
        DeliveryRoutes.Map(routes, PhotographPage.ListPath, shop.Inbox, MemberRole.Add, MostBytes,
            delivery => new DeliveryEnd(shop.Desk.Take(delivery).Id),
            (id, guest) => shop.Desk.JobsOf(guest).Any(job => job.Id == id), shop.Desk.FullFor);
    }

    private static IResult Small(HttpContext context, Workshop shop, string id)
    {
        PhotoJob? job = shop.Desk.JobsOf(DoorKeeper.GuestOf(context)).FirstOrDefault(each => each.Id == id);
        if (job?.Picture is not { } picture) return Results.NotFound();
        // It never changes, and the list that shows it is made anew with every photo.
        context.Response.Headers.CacheControl = "private, max-age=3600, immutable";
        return Results.Bytes(picture.Jpeg, "image/jpeg");
    }

    private static async Task<IResult> Look(HttpContext context, Workshop shop, string name)
    {
        using MemoryStream copy = new();
        await context.Request.Body.CopyToAsync(copy, context.RequestAborted);
        await Glances.WaitAsync(context.RequestAborted);
        try
        {
            Outcome<PhotoRecord> seen = shop.Desk.Glance(copy.ToArray(), Inbox.Shown(name));
            return Answer.Part(seen.IsRefused ? RefusalPart.Write(seen.Refusal!) : PhotographPage.Seen(seen.Value));
        }
        finally
        {
            Glances.Release();
        }
    }
}
