namespace CardScan.Web;

/// <summary>Letting phones in and sending them away: from the computer alone.</summary>
internal static class PhoneRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        RouteGroupBuilder computer = routes.MapGroup(PhonesPage.Path);
        computer.AddEndpointFilter((call, next) => DoorKeeper.GuestOf(call.HttpContext).IsComputer
            ? next(call)
            : ValueTask.FromResult<object?>(Answer.Missing(call.HttpContext)));
        computer.MapGet("", (HttpContext context) => Answer.Page(PhonesPage.Write(context, shop)));
        computer.MapGet("/list", () => Answer.Part(PhonesPage.List(shop)));
        computer.MapPost("/open", async (HttpContext context) =>
            await shop.Phones!.Open(context.RequestAborted) is { } closed ? Answer.Refused(closed) : Answer.Part(PhonesPage.List(shop)));
        computer.MapPost("/close", async () =>
        {
            await shop.Phones!.DisposeAsync();
            return Answer.Part(PhonesPage.List(shop));
        });
        computer.MapPost("/{number:int}/away", (int number) =>
        {
            shop.Doorway.SendAway(number);
            shop.Bell.Ring(Topic.Guests);
            return Answer.Part(PhonesPage.List(shop));
        });
    }
}
