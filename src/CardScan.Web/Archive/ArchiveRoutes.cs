using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Settings and cards looked up, taken out and taken in.</summary>
internal static class ArchiveRoutes
{
    /// <summary>No list is longer: a page of more is nothing to read.</summary>
    private const int MostOfAll = 5000;

    private static readonly Dictionary<string, string> Types = new()
    {
        ["zip"] = "application/zip", ["csv"] = "text/csv; charset=utf-8", ["json"] = "application/json",
    };

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet(SettingsPage.Path, (HttpContext context) =>
        {
            Outcome<SettingsBook> book = shop.Settings.Take(QueryForm.From(context.Request.Query, MostOfAll));
            return Answer.IsForPart(context)
                ? Answer.Part(SettingsPage.Found(book))
                : Answer.Page(SettingsPage.Write(context, book, shop.Clock.GetLocalNow()));
        });
        routes.MapGet(ArchivePage.Path, (HttpContext context, int? most) =>
        {
            int limit = Math.Clamp(most ?? ArchivePage.UsualMost, 1, MostOfAll);
            Outcome<FoundCards> found = shop.Cards.Take(QueryForm.From(context.Request.Query, limit));
            return Answer.IsForPart(context)
                ? Answer.Part(ArchivePage.Found(context, found))
                : Answer.Page(ArchivePage.Write(context, found, shop.KnownPhones.Take(new())));
        });
        foreach ((string ending, string type) in Types)
            routes.MapGet($"{ArchivePage.Path}/cards.{ending}", (HttpContext context) => TakeOut(context, shop, ending, type));
    }

    /// <summary>A file that is made for this answer and gone with it.</summary>
    private static IResult TakeOut(HttpContext context, Workshop shop, string ending, string type)
    {
        string folder = Directory.CreateTempSubdirectory("cardscan-").FullName;
        string path = Path.Combine(folder, $"cards.{ending}");
        context.Response.OnCompleted(() =>
        {
            Directory.Delete(folder, recursive: true);
            return Task.CompletedTask;
        });
        Outcome<BundlePart> part = ExportArchive.Run(shop.Archive, QueryForm.From(context.Request.Query, int.MaxValue), path);
        return part.IsRefused
            ? Answer.RefusedPage(context, part.Refusal!)
            : Results.File(path, type, $"cardscan-cards.{ending}");
    }
}
