using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>Two large buttons, and what became of the photos that were sent.</summary>
internal static class PhotographPage
{
    /// <summary>Where the list is fetched again.</summary>
    public const string ListPath = "/photos";

    /// <summary>Photos that the list shows.</summary>
    private const int MostShown = 12;

    public static string Write(HttpContext context, PhotoDesk desk) => Shell.Write(
        context, Voice.Say("web.photograph.title"),
        new XElement("h1", Voice.Say("web.photograph.title")),
        new XElement("div", Html.Class("ways"), Way("camera", isCamera: true), Way("library", isCamera: false)),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.photograph.hint")),
        new XElement("ol", new XAttribute("id", "sending"), Html.Class("photos"), new XAttribute("aria-live", "polite"),
            new XAttribute("data-waiting", Voice.Say("web.sending.waiting")), new XAttribute("data-again", Voice.Say("web.sending.again")),
            new XAttribute("data-failed", Voice.Say("web.sending.failed"))),
        LivePart.Write(ListPath, [Topic.Photos], List(desk)));

    /// <summary>The photos, newest first, above them what came of the newest card.</summary>
    public static XElement List(PhotoDesk desk)
    {
        PhotoJob[] jobs = [.. desk.Jobs.Reverse().Take(MostShown)];
        return LivePart.Content(jobs.Length == 0 ? null : new XElement("ol", Html.Class("photos"), jobs.Select(Item)));
    }

    private static XElement Way(string way, bool isCamera) => new(
        "label", Html.Class(isCamera ? "button large first" : "button large"),
        new XElement(
            "input", new XAttribute("type", "file"), new XAttribute("accept", "image/jpeg,image/png"), new XAttribute("data-photos", ""),
            isCamera ? new XAttribute("capture", "environment") : new XAttribute("multiple", "")),
        new XElement("span", Voice.Say("web.photograph.way", ("way", way))));

    private static XElement Item(PhotoJob job) => new(
        "li", Html.Class($"photo {job.State}".ToLowerInvariant()),
        new XElement("p", Html.Class("state"),
            new XElement("strong", Voice.Say("web.photo.state", ("state", $"{job.State}"), ("good", Is(job.Change is null)))),
            job.CardNumber is { } card ? " " + Voice.Say("page.title", ("number", card)) : null),
        new XElement("p", Html.Class("name"), job.Name),
        job.Change is { } change ? Html.Paragraph(Html.Class("change"), change.Message) : null,
        job.Refusal is { } refusal ? RefusalPart.Write(refusal) : null,
        job.ReadingName is { } reading
            ? new XElement("a", Html.Class("button"), new XAttribute("href", ReadingPage.PathOf(reading)), Voice.Say("web.photo.result"))
            : null);
}
