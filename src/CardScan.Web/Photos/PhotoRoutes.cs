using CardScan.Model;

namespace CardScan.Web;

/// <summary>Photos on their way in: begun, sent piece by piece, read.</summary>
internal static class PhotoRoutes
{
    private sealed record Progress(string Id, long At, bool Done);

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet("/photograph", (HttpContext context) => Answer.Page(PhotographPage.Write(context, shop.Desk)));
        routes.MapGet(PhotographPage.ListPath, () => Answer.Part(PhotographPage.List(shop.Desk)));
        routes.MapPost(PhotographPage.ListPath, (string name, long size) => Begin(shop, name, size));
        routes.MapGet("/photos/{id:guid}", (Guid id) => State(shop, $"{id:N}"));
        routes.MapPut("/photos/{id:guid}",
            (HttpContext context, Guid id, long at) => Take(context, shop, $"{id:N}", at));
    }

    private static IResult Begin(Workshop shop, string name, long size)
    {
        Outcome<Delivery> delivery = shop.Inbox.Begin(name, size);
        return delivery.IsRefused ? Answer.Refused(delivery.Refusal!) : Told(delivery.Value);
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
