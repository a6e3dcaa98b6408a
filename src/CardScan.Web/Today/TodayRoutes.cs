namespace CardScan.Web;

/// <summary>The first page, and the bell that all pages listen to.</summary>
internal static class TodayRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet("/", (HttpContext context) => Answer.Page(TodayPage.Write(context, shop)));
        routes.MapGet(TodayPage.ListPath, () => Answer.Part(TodayPage.Tasks(shop)));
        routes.MapGet($"{TodayPage.ListPath}/settings", () => Answer.Part(TodayPage.Latest(shop)));
        routes.MapGet("/changes", (HttpContext context) => TypedResults.ServerSentEvents(shop.Bell.Listen(context.RequestAborted)));
    }
}
