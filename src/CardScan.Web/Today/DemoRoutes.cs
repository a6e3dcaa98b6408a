using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>The demo card, tried: its photo goes the way of any other.</summary>
internal static class DemoRoutes
{
    /// <summary>Where it is begun.</summary>
    public const string Path = "/demo";

    private const long MostBytes = 10 * 1000 * 1000;

    /// <summary>Where its photo is, small.</summary>
    public const string PicturePath = "/demo/small.jpg";

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        Lazy<SmallPicture?> picture = new(() => shop.DemoFolder is { } folder ? PhotoSitting.Reduce(Demo.PhotoIn(folder)) : null);
        routes.MapGet(PicturePath, () => picture.Value is { } small ? Results.Bytes(small.Jpeg, "image/jpeg") : Results.NotFound());
        routes.MapPost(Path, (Func<HttpContext, Task<IResult>>)(context => Try(context, shop)));
    }

    private static async Task<IResult> Try(HttpContext context, Workshop shop)
    {
        if (shop.DemoFolder is not { } folder) return Answer.Missing(context);
        Outcome<long> cards = Count(shop);
        if (cards.IsRefused) return Answer.Refused(cards.Refusal!);
        // A second touch finds the card there, and its photo on its way.
        if (cards.Value > 0) return Answer.Go(context, PhotographPage.Path);
        Outcome<string> photo = Demo.KeepCard(folder, shop.Archive);
        if (photo.IsRefused) return Answer.Refused(photo.Refusal!);
        shop.Bell.Ring(Topic.Archive);
        return await Send(shop, photo.Value) is { } refusal ? Answer.Refused(refusal) : Answer.Go(context, PhotographPage.Path);
    }

    private static Outcome<long> Count(Workshop shop)
    {
        Outcome<FoundCards> found = shop.Archive.Find(new() { Most = 1 });
        return found.IsRefused ? found.Refusal! : found.Value.Count;
    }

    /// <summary>Puts the photo where those of phones arrive. Nobody stops it half way: it is on this disk already.</summary>
    private static async Task<Refusal?> Send(Workshop shop, string path)
    {
        await using FileStream file = File.OpenRead(path);
        Outcome<Delivery> delivery = shop.Inbox.Begin(Voice.Say("web.demo.photo"), file.Length, MostBytes);
        if (delivery.IsRefused) return delivery.Refusal;
        Outcome<long> here = await shop.Inbox.Take(delivery.Value, 0, file, CancellationToken.None);
        if (here.IsRefused) return here.Refusal;
        Outcome<string> whole = shop.Inbox.Finish(delivery.Value);
        return whole.IsRefused ? whole.Refusal : shop.Desk.Take(delivery.Value).Refusal;
    }
}
