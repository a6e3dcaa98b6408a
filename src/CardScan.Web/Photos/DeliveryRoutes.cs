using System.Text.Json;
using System.Text.Json.Serialization;
using CardScan.Model;

namespace CardScan.Web;

/// <summary>What became of a file that has come whole.</summary>
/// <param name="Id">What it is called from now on.</param>
/// <param name="Words">What to tell whoever sent it; null where a list tells it.</param>
internal sealed record DeliveryEnd(string Id, string? Words = null);

/// <summary>Files on their way in: begun, sent piece by piece, taken.</summary>
internal static class DeliveryRoutes
{
    /// <summary>Deliveries whose end is told once more to a sender who did not hear it.</summary>
    private const int MostRemembered = 100;

    /// <summary>Takes files at an address.</summary>
    /// <param name="routes">The routes.</param>
    /// <param name="path">The address.</param>
    /// <param name="inbox">Where they lie.</param>
    /// <param name="least">The role that it takes to send them.</param>
    /// <param name="mostBytes">No file is larger.</param>
    /// <param name="take">What is done with one that has come whole.</param>
    /// <param name="isKnown">Whether one that is no longer in the inbox was taken from somebody.</param>
    /// <param name="isFull">Why somebody is to begin nothing more now; null where they may.</param>
    public static void Map(IEndpointRouteBuilder routes, string path, Inbox inbox, MemberRole least, long mostBytes,
        Func<Delivery, Outcome<DeliveryEnd>> take, Func<string, Guest, bool>? isKnown = null, Func<Guest, Refusal?>? isFull = null)
    {
        Queue<(string Id, Actor? By, Outcome<DeliveryEnd> End)> ends = [];
        routes.MapPost(path, (HttpContext context, string name, long size) =>
        {
            if (isFull?.Invoke(DoorKeeper.GuestOf(context)) is { } full) return Answer.Refused(full);
            Outcome<Delivery> delivery = inbox.Begin(name, size, mostBytes, ActorOf(context));
            return delivery.IsRefused ? Answer.Refused(delivery.Refusal!) : Told(delivery.Value);
        }).For(least);
        routes.MapGet($"{path}/{{id:guid}}", (HttpContext context, Guid id) => State(context, $"{id:N}")).For(least);
        routes.MapPut($"{path}/{{id:guid}}", async (HttpContext context, Guid id, long at) =>
        {
            if (Find(context, $"{id:N}") is not { } delivery) return State(context, $"{id:N}");
            // A sender who lost the answer asks again while the first request is still at work.
            await delivery.Turn.WaitAsync(context.RequestAborted);
            try
            {
                if (inbox.Find(delivery.Id) is null) return State(context, delivery.Id);
                Outcome<long> here = await inbox.Take(delivery, at, context.Request.Body, context.RequestAborted);
                if (here.IsRefused) return Answer.Refused(here.Refusal!);
                return here.Value < delivery.SizeBytes ? Told(delivery) : Ended(delivery);
            }
            finally
            {
                delivery.Turn.Release();
            }
        }).For(least);

        // Nobody goes on with, or hears of, what another member sends.
        Delivery? Find(HttpContext context, string id) => inbox.Find(id) is { } found && found.By == ActorOf(context) ? found : null;

        IResult Ended(Delivery delivery)
        {
            Outcome<string> whole = inbox.Finish(delivery);
            if (whole.IsRefused) return Answer.Refused(whole.Refusal!);
            Outcome<DeliveryEnd> end = take(delivery);
            lock (ends)
            {
                ends.Enqueue((delivery.Id, delivery.By, end));
                if (ends.Count > MostRemembered) ends.Dequeue();
            }

            inbox.Forget(delivery);
            return Said(end);
        }

        IResult State(HttpContext context, string id)
        {
            if (Find(context, id) is { } delivery) return Told(delivery);
            lock (ends)
            {
                if (ends.FirstOrDefault(each => each.Id == id && each.By == ActorOf(context)).End is { } end) return Said(end);
            }

            return isKnown?.Invoke(id, DoorKeeper.GuestOf(context)) == true ? Told(new DeliveryProgress(id, 0, true)) : Results.NotFound();
        }
    }

    private static Actor? ActorOf(HttpContext context) => DoorKeeper.GuestOf(context).Member?.AsActor;

    private static IResult Said(Outcome<DeliveryEnd> end) =>
        end.IsRefused ? Answer.Refused(end.Refusal!) : Told(new DeliveryProgress(end.Value.Id, 0, true, end.Value.Words));

    private static IResult Told(Delivery delivery) => Told(new DeliveryProgress(delivery.Id, delivery.HereBytes, false));

    private static IResult Told(DeliveryProgress progress) => Results.Json(progress, DeliveryJson.Default.DeliveryProgress);
}

/// <summary>How far a file has come, as page.js reads it.</summary>
internal sealed record DeliveryProgress(string Id, long At, bool Done, string? Words = null);

[JsonSourceGenerationOptions(JsonSerializerDefaults.Web)]
[JsonSerializable(typeof(DeliveryProgress))]
internal sealed partial class DeliveryJson : JsonSerializerContext;
