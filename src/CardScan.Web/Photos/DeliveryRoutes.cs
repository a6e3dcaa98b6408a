using CardScan.Model;

namespace CardScan.Web;

/// <summary>What became of a file that has come whole.</summary>
/// <param name="Id">What it is called from now on.</param>
/// <param name="Words">What to tell whoever sent it; null where a list tells it.</param>
internal sealed record DeliveryEnd(string Id, string? Words = null);

/// <summary>Files on their way in: begun, sent piece by piece, taken.</summary>
internal static class DeliveryRoutes
{
    private sealed record Progress(string Id, long At, bool Done, string? Words = null);

    /// <summary>Takes files at an address.</summary>
    /// <param name="routes">The routes.</param>
    /// <param name="path">The address.</param>
    /// <param name="inbox">Where they lie.</param>
    /// <param name="mostBytes">No file is larger.</param>
    /// <param name="take">What is done with one that has come whole.</param>
    /// <param name="isKnown">Whether one that is no longer in the inbox was taken.</param>
    public static void Map(IEndpointRouteBuilder routes, string path, Inbox inbox, long mostBytes,
        Func<Delivery, Outcome<DeliveryEnd>> take, Func<string, bool>? isKnown = null)
    {
        routes.MapPost(path, (string name, long size) =>
        {
            Outcome<Delivery> delivery = inbox.Begin(name, size, mostBytes);
            return delivery.IsRefused ? Answer.Refused(delivery.Refusal!) : Told(delivery.Value);
        });
        routes.MapGet($"{path}/{{id:guid}}", (Guid id) => State($"{id:N}"));
        routes.MapPut($"{path}/{{id:guid}}", async (HttpContext context, Guid id, long at) =>
        {
            if (inbox.Find($"{id:N}") is not { } delivery) return State($"{id:N}");
            Outcome<long> here = await inbox.Take(delivery, at, context.Request.Body, context.RequestAborted);
            if (here.IsRefused) return Answer.Refused(here.Refusal!);
            if (here.Value < delivery.SizeBytes) return Told(delivery);
            Outcome<string> whole = inbox.Finish(delivery);
            if (whole.IsRefused) return Answer.Refused(whole.Refusal!);
            Outcome<DeliveryEnd> end = take(delivery);
            return end.IsRefused
                ? Answer.Refused(end.Refusal!)
                : Results.Json(new Progress(end.Value.Id, delivery.SizeBytes, true, end.Value.Words));
        });

        IResult State(string id)
        {
            if (inbox.Find(id) is { } delivery) return Told(delivery);
            return isKnown?.Invoke(id) == true ? Results.Json(new Progress(id, 0, true)) : Results.NotFound();
        }
    }

    private static IResult Told(Delivery delivery) => Results.Json(new Progress(delivery.Id, delivery.HereBytes, false));
}
