using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>How the machines changed over their cards, and what was done to them.</summary>
internal static class ChangesPage
{
    /// <summary>Where it stands.</summary>
    public const string Path = $"{MachinesPage.Path}/history";

    public static string Write(HttpContext context, Outcome<HistoryBook> book) => Shell.Write(
        context, Voice.Say("history.page.title"),
        new XElement("h1", Voice.Say("history.page.title")),
        LivePart.Write($"{Path}/list", [Topic.Archive], List(book)));

    /// <summary>The charts, each with a field for what was done, and what was noted so far.</summary>
    public static XElement List(Outcome<HistoryBook> book) => book.IsRefused
        ? LivePart.Content(RefusalPart.Write(book.Refusal!))
        : LivePart.Content(
            book.Value.Machines.Count == 0 ? Html.Paragraph(Voice.Say("history.none")) : null,
            CardReport.HistoryParts(HistoryPage.Of(book.Value)),
            book.Value.Machines.Count == 0 ? null : Done(book.Value),
            Html.Paragraph(Html.Class("meaning"), Voice.Say("history.page.footer")));

    private static XElement Done(HistoryBook book)
    {
        (string, string)[] machines =
            [.. book.Machines.Select(each => Voice.Tell(each.Machine.ToFigure())).Distinct().Select(name => (name, name))];
        return Html.Section(
            "done", Voice.Say("web.changes.done"),
            Html.Paragraph(Html.Class("hint"), Voice.Say("web.changes.why")),
            new XElement("ul", Html.Class("phones"), book.Changes.Select(Item)),
            new XElement(
                "form", Html.Class("ask"), new XAttribute("method", "post"), new XAttribute("action", Path),
                new XAttribute("data-post", ""), new XAttribute("data-into", "noted"),
                Field.Choice("machine", null, machines),
                Field.Of("changed", null, Voice.Say("web.changes.example")),
                new XElement("button", Html.Class("large first"), Voice.Say("web.changes.note")),
                new XElement("div", new XAttribute("id", "noted"), new XAttribute("role", "status"))).For(MemberRole.Add));
    }

    private static XElement Item(MachineChange change) => new(
        "li", new XElement("span", Voice.Tell(change.ToFigure())),
        Field.Button($"{Path}/{change.Name}/back", "noted", Voice.Say("web.changes.back"), "button").For(MemberRole.Keep));
}
