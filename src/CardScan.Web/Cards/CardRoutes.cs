using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Making cards, and what is done with them.</summary>
internal static class CardRoutes
{
    private const string Card = "/cards/c{id:long:min(1)}";

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet(MakePage.Path, (HttpContext context) =>
        {
            CardForm form = new(context, shop, TypedFields.Of(context.Request.Query));
            return Answer.Page(MakePage.Write(context, form, Planned(form).Part));
        });
        routes.MapGet(MakePage.FollowPath, (HttpContext context) =>
        {
            (XElement part, int status) = Planned(new(context, shop, TypedFields.Of(context.Request.Query)));
            return Answer.Part(part, status);
        });
        routes.MapPost("/cards", (Delegate)((HttpContext context) => Make(context, shop))).For(MemberRole.Add);
        routes.MapPost(MakePage.StripPath, (HttpContext context) =>
        {
            Outcome<MadeStrip> made = MakeStrip.Run(new() { OutputFolder = null, Archive = shop.ArchiveOf(context) });
            return Made(context, shop, made.IsRefused ? made.Refusal! : made.Value.Kept!);
        }).For(MemberRole.Add);
        routes.MapGet(Card, (HttpContext context, long id) => Show(context, shop, id));
        routes.MapGet($"{Card}/state", (HttpContext context, long id) => Part(shop, id, kept => CardPage.State(context, shop, kept)));
        routes.MapGet($"{Card}/history", (HttpContext context, long id) => Part(shop, id, kept => CardPage.History(context, shop, kept)));
        routes.MapGet($"{Card}/files.zip", (HttpContext context, long id) => Zip(context, shop, id));
        routes.MapGet($"{Card}/files/{{name}}", (HttpContext context, long id, string name) => File(context, shop, id, name));
        MapChanges(routes, shop);
    }

    private static void MapChanges(IEndpointRouteBuilder routes, Workshop shop)
    {
        ValueList<string> burned = [TodayPage.BurnedTag];
        Own("burned", (archive, id, _) => archive.Tag(id, burned, isOff: false));
        Own("burned-not", (archive, id, _) => archive.Tag(id, burned, isOff: true));
        Own("close", (archive, id, _) => archive.Close(id, isOpenedAgain: false));
        Own("open", (archive, id, _) => archive.Close(id, isOpenedAgain: true));
        Own("tags-off", (archive, id, typed) => archive.Tag(id, TagsOf(typed), isOff: true));
        Any("notes", (archive, id, typed) => archive.AddNote(id, typed.Text("text") ?? ""));
        Any("tags", (archive, id, typed) => archive.Tag(id, TagsOf(typed), isOff: false));
        routes.MapPost($"{Card}/next", async (HttpContext context, long id) => Next(context, shop, id, await TypedFields.Of(context)))
            .For(MemberRole.Add);

        // What changes a card is for whoever made it, and for those who keep the workshop.
        void Own<T>(string what, Func<ArchivePlace, string, TypedFields, Outcome<T>> change) => routes.MapPost(
            $"{Card}/{what}", async (HttpContext context, long id) => shop.MayChange(context, id)
                ? await Change(context, shop, id, change)
                : Answer.Refused(Refusal.OfInput(Codes.MemberRoleTooLow))).For(MemberRole.Add);

        void Any<T>(string what, Func<ArchivePlace, string, TypedFields, Outcome<T>> change) => routes.MapPost(
            $"{Card}/{what}", (HttpContext context, long id) => Change(context, shop, id, change)).For(MemberRole.Add);
    }

    private static string Name(long id) => CardEntry.NameOf(id);

    private static (XElement Part, int Status) Planned(CardForm form)
    {
        if (!form.IsBegun) return (MakePage.Beginning(form), StatusCodes.Status200OK);
        Outcome<CardRequest> request = form.Request();
        if (request.IsRefused) return Refused(form, request.Refusal!);
        Outcome<PlannedCard> planned = MakeCard.Preview(request.Value);
        return planned.IsRefused
            ? Refused(form, planned.Refusal!)
            : (MakePage.Card(form, request.Value, planned.Value), StatusCodes.Status200OK);
    }

    private static (XElement, int) Refused(CardForm form, Refusal refusal) => (MakePage.Refused(form, refusal), Answer.StatusOf(refusal));

    private static async Task<IResult> Make(HttpContext context, Workshop shop)
    {
        CardForm form = new(context, shop, await TypedFields.Of(context));
        Outcome<CardRequest> request = form.Request();
        if (request.IsRefused) return Answer.Refused(request.Refusal!);
        // Nothing is kept of a card that cannot be planned.
        Outcome<PlannedCard> planned = MakeCard.Preview(request.Value);
        if (planned.IsRefused) return Answer.Refused(planned.Refusal!);
        if (form.KeepProfiles(request.Value.Plan) is { } notKept) return Answer.Refused(notKept);
        shop.Bell.Ring(Topic.Profiles);
        return Made(context, shop, MakeCard.Run(request.Value));
    }

    private static IResult Made(HttpContext context, Workshop shop, Outcome<MadeCard> made) =>
        Made(context, shop, made.IsRefused ? made.Refusal! : made.Value.Kept!);

    private static IResult Made(HttpContext context, Workshop shop, Outcome<KeptCard> kept)
    {
        if (kept.IsRefused) return Answer.Refused(kept.Refusal!);
        shop.Bell.Ring(Topic.Archive);
        return Answer.Go(context, CardPage.PathOf(kept.Value.Id));
    }

    /// <summary>The card that follows; what it is for and what to expect of it stand on it as notes.</summary>
    private static IResult Next(HttpContext context, Workshop shop, long id, TypedFields typed)
    {
        Outcome<ArchiveView> view = shop.Archive.Show(Name(id));
        if (view.IsRefused) return Answer.Refused(view.Refusal!);
        if (view.Value.Cards[0].Card.NewestReadingId is not { } newest)
            return Answer.Refused(Refusal.OfInput(Codes.ArchiveNoReading, ("name", Name(id))));
        Outcome<NextCardMade> next = PlanNext.Run(new()
        {
            Readings = [ReadingEntry.NameOf(newest)],
            OutputFolder = null,
            Archive = shop.ArchiveOf(context),
            AcceptedRisk = typed.Text("accept-risk"),
            MachineNow = burned => shop.ProfilesOf(context).ForNext(burned, null),
        });
        if (next.IsRefused) return Answer.Part(CardPage.NextRefused(id, next.Refusal!), Answer.StatusOf(next.Refusal!));
        if (next.Value.Card.Kept is { IsRefused: false, Value.Name: { } name })
        {
            // A note is read wherever the archive is.
            using IDisposable told = Voice.WriteFiles();
            foreach (Advice note in next.Value.Ranges.Notes) shop.ArchiveOf(context).AddNote(name, note.Message);
        }

        return Made(context, shop, next.Value.Card);
    }

    private static IResult Show(HttpContext context, Workshop shop, long id)
    {
        Outcome<ArchiveView> view = shop.Archive.Show(Name(id));
        if (view.IsRefused) return Answer.RefusedPage(context, view.Refusal!);
        Outcome<CardDownloads> files = CardDownloads.Of(shop.Archive, id);
        return files.IsRefused
            ? Answer.RefusedPage(context, files.Refusal!)
            : Answer.Page(CardPage.Write(context, shop, view.Value.Cards[0], files.Value));
    }

    private static IResult Part(Workshop shop, long id, Func<KeptCardView, XElement> write)
    {
        Outcome<ArchiveView> view = shop.Archive.Show(Name(id));
        return view.IsRefused ? Answer.Refused(view.Refusal!) : Answer.Part(write(view.Value.Cards[0]));
    }

    private static async Task<IResult> Change<T>(
        HttpContext context, Workshop shop, long id, Func<ArchivePlace, string, TypedFields, Outcome<T>> change)
    {
        Outcome<T> done = change(shop.ArchiveOf(context), Name(id), await TypedFields.Of(context));
        if (done.IsRefused) return Answer.Refused(done.Refusal!);
        shop.Bell.Ring(Topic.Archive);
        return Answer.Part(LivePart.Content());
    }

    private static ValueList<string> TagsOf(TypedFields typed) =>
        (typed.Text("tag") ?? "").Split(' ', StringSplitOptions.RemoveEmptyEntries).DefaultIfEmpty("").ToValueList();

    private static IResult File(HttpContext context, Workshop shop, long id, string name)
    {
        Outcome<CardDownloads> files = CardDownloads.Of(shop.Archive, id);
        if (files.IsRefused) return Answer.RefusedPage(context, files.Refusal!);
        Outcome<CardFile?> file = files.Value.File(name);
        if (file.IsRefused) return Answer.RefusedPage(context, file.Refusal!);
        if (file.Value is not { } found) return Answer.Missing(context);
        // Files of several cards meet in one folder of downloads: there each needs a name of its own.
        string shown = name.StartsWith("card.", StringComparison.Ordinal) ? name[4..] : $"-{name}";
        return Results.File(found.Bytes.ToArray(), TypeOf(name), $"card-{files.Value.Plan.Number}{shown}");
    }

    private static IResult Zip(HttpContext context, Workshop shop, long id)
    {
        TypedFields typed = TypedFields.Of(context.Request.Query);
        CardExtras extras = new() { SplitsDrawing = typed.Is("split-drawing"), PointerPercent = typed.Number("pointer-power") };
        if (typed.Fault is { } fault) return Answer.RefusedPage(context, fault);
        Outcome<CardDownloads> files = CardDownloads.Of(shop.Archive, id);
        if (files.IsRefused) return Answer.RefusedPage(context, files.Refusal!);
        Outcome<byte[]> zip = files.Value.Zip(extras);
        return zip.IsRefused
            ? Answer.RefusedPage(context, zip.Refusal!)
            : Results.File(zip.Value, "application/zip", $"card-{files.Value.Plan.Number}.zip");
    }

    private static string TypeOf(string name) => Path.GetExtension(name) switch
    {
        ".svg" => "image/svg+xml",
        ".csv" => "text/csv; charset=utf-8",
        ".html" => "text/html; charset=utf-8",
        ".png" => "image/png",
        ".pdf" => "application/pdf",
        ".json" => "application/json",
        _ => "text/plain; charset=utf-8",
    };
}
