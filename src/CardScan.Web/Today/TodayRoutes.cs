using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace CardScan.Web;

/// <summary>The first page, and the bell that all pages listen to.</summary>
internal static class TodayRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet("/", (HttpContext context) => Answer.Page(TodayPage.Write(context, shop)));
        routes.MapGet(TodayPage.ListPath, (HttpContext context) => Answer.Part(TodayPage.List(context, shop)));
        CancellationToken ends = routes.ServiceProvider.GetRequiredService<IHostApplicationLifetime>().ApplicationStopping;
        routes.MapGet("/changes", (HttpContext context) =>
        {
            Guest guest = DoorKeeper.GuestOf(context);
            return TypedResults.ServerSentEvents(shop.Bell.Listen(() => shop.IsIn(guest), ends, context.RequestAborted));
        });
    }
}
