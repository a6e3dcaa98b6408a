using System.Globalization;
using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>A result: the setting, whether it can be used, and the card to touch.</summary>
internal static class ReadingPage
{
    /// <summary>Address of a reading's page.</summary>
    public static string PathOf(string name) => $"/readings/{name}";

    public static string Write(HttpContext context, string name, ShelvedReading shelved, XElement? cell)
    {
        Reading reading = shelved.Kept.Reading;
        ReportParts parts = new(reading);
        return Shell.Write(
            context, Voice.Say("page.title", ("number", reading.Plan.Number)),
            LivePart.Write($"{PathOf(name)}/newer", [Topic.Archive]),
            parts.Title(),
            new XElement("div", Html.Class("side-by-side"),
                new XElement("div",
                    new XElement("div", new XAttribute("id", "answer"), new XAttribute("aria-live", "polite"), Answer(parts)),
                    reading.Plan.IsPrinted ? null : Choices(name, reading),
                    Tools(shelved.Kept.Entry, parts, reading.Plan.IsPrinted)),
                Photos(name, shelved, parts, cell)),
            parts.Grid(),
            new XElement("details", new XElement("summary", Voice.Say("web.reading.figures")), parts.Figures()),
            reading.Plan.IsPrinted ? null : parts.Cautions());
    }

    /// <summary>What follows from the choices.</summary>
    public static XElement Answer(ReportParts parts) => new("div", parts.Settings(), parts.Advice());

    /// <summary>Where a newer reading of the same card is, and whether the card shows a change of its machine.</summary>
    public static XElement Newer(KeptReadingView kept, CardEntry? card, Warning? drift) => LivePart.Content(
        card?.NewestReadingId is { } newest && newest > kept.Entry.Id
            ? new XElement("p", Html.Class("judgement doubtful"), Voice.Say("web.reading.newer"), " ",
                new XElement("a", new XAttribute("href", PathOf(ReadingEntry.NameOf(newest))), Voice.Say("web.reading.show-newer")))
            : null,
        drift is null
            ? null
            : new XElement("p", Html.Class("judgement doubtful"), drift.Message, " ",
                new XElement("a", new XAttribute("href", ChangesPage.Path), Voice.Say("web.changes.look"))));

    private static XElement Tools(ReadingEntry entry, ReportParts parts, bool isPrinted)
    {
        SpeedUnit other = Voice.Speeds == SpeedUnit.MmPerMin ? SpeedUnit.MmPerS : SpeedUnit.MmPerMin;
        return new(
            "div", Html.Class("tools"),
            isPrinted
                ? null
                : Field.Button($"{CardPage.PathOf(entry.CardId)}/next", "said", Voice.Say("web.card.next"), "button first")
                    .For(MemberRole.Add),
            new XElement("a", Html.Class("button"), new XAttribute("href", CardPage.PathOf(entry.CardId)), Voice.Say("web.reading.card")),
            isPrinted
                ? null
                : Field.Button($"{PathOf(entry.Name)}/{other}", "said",
                    Voice.Say("web.reading.speeds-in", ("unit", Preferences.WordOf(other))), "button"),
            new XElement("button", new XAttribute("type", "button"), new XAttribute("data-print", ""), Voice.Say("web.reading.print")),
            new XElement("button", new XAttribute("type", "button"), new XAttribute("data-copy", "as-text"),
                new XAttribute("data-done", Voice.Say("web.reading.copied")), Voice.Say("web.reading.copy")),
            new XElement("textarea", new XAttribute("id", "as-text"), Html.Class("away"), new XAttribute("readonly", ""),
                new XAttribute("tabindex", "-1"),
                new XAttribute("aria-label", Voice.Say("web.reading.text")), parts.AsText()),
            new XElement("div", new XAttribute("id", "said"), new XAttribute("role", "status")));
    }

    /// <summary>How strict the answer is: it follows at once.</summary>
    private static XElement Choices(string name, Reading reading)
    {
        ScoringOptions usual = ScoringOptions.Default;
        bool isCut = reading.Plan.Process == Process.Cut;
        return new(
            "form", Html.Class("choices"), new XAttribute("action", $"{PathOf(name)}/answer"), new XAttribute("data-follow", "answer"),
            isCut ? null : Slider("full", 80, 99, usual.FullMarkShare),
            Slider("sure", 50, 99, isCut ? usual.CutConfidence : usual.FullMarkConfidence));
    }

    private static XElement Slider(string name, int least, int most, double usual)
    {
        string value = Math.Round(100 * usual).ToString(CultureInfo.InvariantCulture);
        return new(
            "label", Html.Class("slider"), new XElement("span", Voice.Say("web.reading.choice", ("of", name))),
            new XElement("input", new XAttribute("type", "range"), new XAttribute("name", name),
                new XAttribute("min", least), new XAttribute("max", most), new XAttribute("step", 1), new XAttribute("value", value)),
            new XElement("output", Voice.Tell(Share(usual))));
    }

    private static XElement? Photos(string name, ShelvedReading shelved, ReportParts parts, XElement? cell)
    {
        if (shelved.Photos.Count == 0) return null;
        return Html.Section(
            "photo", Voice.Say("page.photo.title", ("photos", shelved.Photos.Count)),
            new XElement("div", Html.Class("beside"),
                new XElement("div", new XAttribute("id", "pictures"), Html.Class("pictures"),
                    new XElement("p", Html.Class("zoom"), Zoom("larger", "1.5"), Zoom("smaller", "0.667")),
                    shelved.Photos.Take(shelved.Kept.Reading.Photos.Count).Select((photo, i) => parts.Photo(
                        i, photo, $"{PathOf(name)}/photos/{i}.jpg", (row, column) => $"{PathOf(name)}?cell={row + 1}-{column + 1}"))),
                new XElement("aside", new XAttribute("id", "cell"), new XAttribute("aria-live", "polite"),
                    cell ?? Html.Paragraph(Html.Class("hint"), Voice.Say("web.reading.touch")))),
            parts.Key());
    }

    /// <summary>A button that makes the photos larger or smaller.</summary>
    private static XElement Zoom(string to, string times) => new(
        "button", new XAttribute("type", "button"), new XAttribute("data-zoom", "pictures"), new XAttribute("data-times", times),
        Voice.Say("web.reading.zoom", ("to", to)));
}
