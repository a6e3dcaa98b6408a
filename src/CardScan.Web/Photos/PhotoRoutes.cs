using CardScan.Model;

namespace CardScan.Web;

/// <summary>Photos on their way in: begun, sent piece by piece, read.</summary>
internal static class PhotoRoutes
{
    /// <summary>Small copies that are looked at side by side; the photos themselves go first.</summary>
    private static readonly SemaphoreSlim Glances = new(2);

    private sealed record Progress(string Id, long At, bool Done);

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet("/photograph", (HttpContext context) => Answer.Page(PhotographPage.Write(context, shop)));
        routes.MapGet(PhotographPage.ListPath, () => Answer.Part(PhotographPage.List(shop)));
        routes.MapPost(PhotographPage.ListPath, (string name, long size) => Begin(shop, name, size));
        routes.MapPost($"{PhotographPage.ListPath}/look", (HttpContext context, string name) => Look(context, shop, name));
        routes.MapGet("/photos/{id:guid}", (Guid id) => State(shop, $"{id:N}"));
        routes.MapPut("/photos/{id:guid}",
            (HttpContext context, Guid id, long at) => Take(context, shop, $"{id:N}", at));
    }

    private static IResult Begin(Workshop shop, string name, long size)
    {
        Outcome<Delivery> delivery = shop.Inbox.Begin(name, size);
        return delivery.IsRefused ? Answer.Refused(delivery.Refusal!) : Told(delivery.Value);
    }

    private static async Task<IResult> Look(HttpContext context, Workshop shop, string name)
    {
        using MemoryStream copy = new();
        await context.Request.Body.CopyToAsync(copy, context.RequestAborted);
        await Glances.WaitAsync(context.RequestAborted);
        try
        {
            Outcome<PhotoRecord> seen = shop.Desk.Glance(copy.ToArray(), Inbox.Shown(name));
            return seen.IsRefused ? Answer.Part(RefusalPart.Write(seen.Refusal!)) : Answer.Part(PhotographPage.Seen(seen.Value));
        }
        finally
        {
            Glances.Release();
        }
    }

    private static IResult State(Workshop shop, string id)
    {
        if (shop.Inbox.Find(id) is { } delivery) return Told(delivery);
        return shop.Desk.Jobs.Exists(job => job.Id == id) ? Results.Json(new Progress(id, 0, true)) : Results.NotFound();
    }

    private static async Task<IResult> Take(HttpContext context, Workshop shop, string id, long at)
    {
        if (shop.Inbox.Find(id) is not { } delivery) return State(shop, id);
        Outcome<long> here = await shop.Inbox.Take(delivery, at, context.Request.Body, context.RequestAborted);
        if (here.IsRefused) return Answer.Refused(here.Refusal!);
        if (here.Value < delivery.SizeBytes) return Told(delivery);
        Outcome<string> whole = shop.Inbox.Finish(delivery);
        if (whole.IsRefused) return Answer.Refused(whole.Refusal!);
        Outcome<PhotoJob> job = shop.Desk.Take(delivery);
        return job.IsRefused ? Answer.Refused(job.Refusal!) : Results.Json(new Progress(job.Value.Id, delivery.SizeBytes, true));
    }

    private static IResult Told(Delivery delivery) => Results.Json(new Progress(delivery.Id, delivery.HereBytes, false));
}
