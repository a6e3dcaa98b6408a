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
    /// <param name="mostBytes">No file is larger.</param>
    /// <param name="take">What is done with one that has come whole.</param>
    /// <param name="isKnown">Whether one that is no longer in the inbox was taken.</param>
    /// <param name="isFull">Whether nothing more is to be begun now.</param>
    public static void Map(IEndpointRouteBuilder routes, string path, Inbox inbox, long mostBytes,
        Func<Delivery, Outcome<DeliveryEnd>> take, Func<string, bool>? isKnown = null, Func<bool>? isFull = null)
    {
        Queue<(string Id, Outcome<DeliveryEnd> End)> ends = [];
        routes.MapPost(path, (string name, long size) =>
        {
            if (isFull?.Invoke() == true) return Answer.Refused(Refusal.OfPlace(Codes.InboxFull));
            Outcome<Delivery> delivery = inbox.Begin(name, size, mostBytes);
            return delivery.IsRefused ? Answer.Refused(delivery.Refusal!) : Told(delivery.Value);
        });
        routes.MapGet($"{path}/{{id:guid}}", (Guid id) => State($"{id:N}"));
        routes.MapPut($"{path}/{{id:guid}}", async (HttpContext context, Guid id, long at) =>
        {
            if (inbox.Find($"{id:N}") is not { } delivery) return State($"{id:N}");
            // A sender who lost the answer asks again while the first request is still at work.
            await delivery.Turn.WaitAsync(context.RequestAborted);
            try
            {
                if (inbox.Find(delivery.Id) is null) return State(delivery.Id);
                Outcome<long> here = await inbox.Take(delivery, at, context.Request.Body, context.RequestAborted);
                if (here.IsRefused) return Answer.Refused(here.Refusal!);
                return here.Value < delivery.SizeBytes ? Told(delivery) : Ended(delivery);
            }
            finally
            {
                delivery.Turn.Release();
            }
        });

        IResult Ended(Delivery delivery)
        {
            Outcome<string> whole = inbox.Finish(delivery);
            if (whole.IsRefused) return Answer.Refused(whole.Refusal!);
            Outcome<DeliveryEnd> end = take(delivery);
            lock (ends)
            {
                ends.Enqueue((delivery.Id, end));
                if (ends.Count > MostRemembered) ends.Dequeue();
            }

            inbox.Forget(delivery);
            return Said(end);
        }

        IResult State(string id)
        {
            if (inbox.Find(id) is { } delivery) return Told(delivery);
            lock (ends)
            {
                if (ends.FirstOrDefault(each => each.Id == id).End is { } end) return Said(end);
            }

            return isKnown?.Invoke(id) == true ? Told(new DeliveryProgress(id, 0, true)) : Results.NotFound();
        }
    }

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
