using CardScan.Model;

namespace CardScan.Web;

/// <summary>Bundles taken in: sent as photos are, then given to the archive as a whole or not at all.</summary>
internal static class BundleRoutes
{
    /// <summary>Where they are sent.</summary>
    public const string Path = "/bundles";

    /// <summary>No bundle is larger, bytes.</summary>
    private const long MostBytes = 2L * 1000 * 1000 * 1000;

    public static void Map(IEndpointRouteBuilder routes, Workshop shop) =>
        DeliveryRoutes.Map(routes, Path, shop.Bundles, MemberRole.Keep, MostBytes, delivery => Import(shop, delivery));

    private static Outcome<DeliveryEnd> Import(Workshop shop, Delivery delivery)
    {
        Outcome<BundlePart> part = shop.ArchiveBy(delivery.By).Import(shop.Bundles.PhotoOf(delivery.Id));
        shop.Bundles.Drop(delivery.Id);
        if (part.IsRefused) return part.Refusal!.In(delivery.Name);
        shop.Bell.Ring(Topic.Archive);
        return new DeliveryEnd(delivery.Id, Voice.Say(
            "web.archive.taken-in", ("cards", part.Value.Cards), ("readings", part.Value.Readings)));
    }
}
