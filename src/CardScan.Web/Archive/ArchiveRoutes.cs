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
        routes.MapPost(SettingsPage.JoinPath, (Delegate)((HttpContext context) => Join(context, shop)));
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

    /// <summary>Keeps two names as one, which the command line can take back.</summary>
    private static async Task<IResult> Join(HttpContext context, Workshop shop)
    {
        TypedFields typed = await TypedFields.Of(context);
        string? kind = typed.Word("kind", [.. Enum.GetValues<NamedKind>().Select(each => EnumName.Of(each))]);
        if (typed.Fault is { } fault) return Answer.Refused(fault);
        NamedKind named = Enum.GetValues<NamedKind>().FirstOrDefault(each => EnumName.Of(each) == kind);
        Outcome<KeptName> kept = shop.ArchiveOf(context).Rename(named, typed.Text("old") ?? "", typed.Text("new") ?? "");
        if (kept.IsRefused) return Answer.Refused(kept.Refusal!);
        shop.Bell.Ring(Topic.Archive);
        return Answer.Go(context, SettingsPage.Path);
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
