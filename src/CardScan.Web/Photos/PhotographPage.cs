using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Two large buttons, and what became of the photos that were sent.</summary>
internal static class PhotographPage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/photograph";

    /// <summary>Where the list is fetched again.</summary>
    public const string ListPath = "/photos";

    /// <summary>What a phone may send as it is; it turns other kinds into JPEG by itself.</summary>
    private const string Accepted = "image/jpeg,image/png,image/x-adobe-dng";

    /// <summary>Photos that the list shows.</summary>
    private const int MostShown = 12;

    public static string Write(HttpContext context, Workshop shop) => Shell.Write(
        context, Voice.Say("web.photograph.title"),
        new XElement("h1", Voice.Say("web.photograph.title")),
        new XElement("div", Html.Class("ways"), !DoorKeeper.GuestOf(context).HasCamera
            ? [Way("library", isFirst: true, new("multiple", "")), PhoneWay(shop)]
            : (XElement[])
            [
                Way("camera", isFirst: true, new("capture", "environment")), Way("library", isFirst: false, new("multiple", "")),
            ]),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.photograph.hint")),
        SendingParts.List(),
        LivePart.Write(ListPath, [Topic.Photos], List(context, shop)));

    /// <summary>What came of the newest card, then the photos, newest first.</summary>
    public static XElement List(HttpContext context, Workshop shop)
    {
        PhotoJob[] jobs = [.. shop.Desk.JobsOf(DoorKeeper.GuestOf(context)).Reverse().Take(MostShown)];
        return LivePart.Content(
            jobs.FirstOrDefault(job => job.ReadingName is not null) is { } newest ? Result(shop, newest) : null,
            jobs.Length == 0 ? null : new XElement("ol", Html.Class("photos"), jobs.Select(Item)));
    }

    /// <summary>What a small copy of a photo tells while the photo itself is on its way.</summary>
    public static XElement Seen(PhotoRecord copy) => PhotoAdvice.OfCopy(copy) is { } change
        ? Html.Paragraph(Html.Class("change"), change.Message)
        : Html.Paragraph(new XElement("strong", Voice.Say("web.photo.glance")));

    private static XElement? Result(Workshop shop, PhotoJob newest)
    {
        string name = newest.ReadingName!;
        Outcome<ShelvedReading> shelved = shop.Readings.Take(name);
        if (shelved.IsRefused) return RefusalPart.Write(shelved.Refusal!);
        Reading reading = shelved.Value.Kept.Reading;
        PhotoGuide? guide = shelved.Value.Guide;
        return new(
            "section", Html.Class("result"), new XAttribute("aria-labelledby", "result"),
            new XElement("h2", new XAttribute("id", "result"), Voice.Say("page.title", ("number", reading.Plan.Number))),
            ReportParts.Headline(reading, isBrief: guide is { IsSettled: false }),
            guide is not null
                ? new XElement(
                    "div", Html.Class("guide"), SidesDrawing.Write(reading, guide), Html.Paragraph(SidesDrawing.Words(guide, reading.Plan)))
                : null,
            MaySeriesHelp(reading) ? Html.Paragraph(Voice.Say("web.photo.series")) : null,
            new XElement(
                "div", Html.Class("tools"),
                new XElement(
                    "a", Html.Class("button first"), new XAttribute("href", ReadingPage.PathOf(name)), Voice.Say("web.photo.result")),
                reading.Photos.Count > 1
                    ? Field.Button($"{ListPath}/{newest.Id}/anew/{reading.Plan.Number}", into: null, Voice.Say("web.photo.anew"), "button")
                    : null));
    }

    /// <summary>True where photos in other brightness would tell the phone's tone curve, which is not known yet.</summary>
    private static bool MaySeriesHelp(Reading reading) =>
        reading.Plan is { Process: Process.Engrave, Kind: CardKind.Grid, Frame: null }
        && reading.Photos.All(photo => photo.Response is not { IsMeasured: true });

    /// <summary>A way for photos to come in.</summary>
    /// <param name="way">A branch of the message "web.photograph.way".</param>
    /// <param name="isFirst">True for the one that most people want.</param>
    /// <param name="how">How the browser gets them.</param>
    private static XElement Way(string way, bool isFirst, XAttribute how) => SendingParts.Button(
        Voice.Say("web.photograph.way", ("way", way)), isFirst ? "button first" : "button", Accepted, how);

    /// <summary>A computer has no camera to hold over a card.</summary>
    private static XElement PhoneWay(Workshop shop) => new(
        "a", Html.Class("button large"), new XAttribute("href", shop.Page is null ? PhonesPage.Path : MembersPage.OwnPath),
        Voice.Say("web.way", ("to", "phones")));

    private static XElement Item(PhotoJob job) => new(
        "li", Html.Class($"photo {job.State}".ToLowerInvariant()),
        ShotDrawing.Write(job),
        new XElement("p", Html.Class("state"),
            new XElement("strong", Voice.Say("web.photo.state", ("state", $"{job.State}"), ("good", Is(job.Change is null)))),
            " ", job.CardNumber is { } card ? Card(card, job.ReadingName) : null),
        new XElement("p", Html.Class("name"), job.Name),
        job.Change is { } change ? Html.Paragraph(Html.Class("change"), change.Message) : null,
        job.Refusal is { } refusal ? RefusalPart.Write(refusal) : null);

    /// <summary>The card's number; behind it its result, where there is one.</summary>
    private static object Card(int number, string? reading)
    {
        string words = Voice.Say("page.title", ("number", number));
        return reading is null ? words : new XElement("a", new XAttribute("href", ReadingPage.PathOf(reading)), words);
    }
}
