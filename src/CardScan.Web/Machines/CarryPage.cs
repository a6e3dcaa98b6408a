using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>A new module: what every material may need on it, and the cards to burn first, which are made from here.</summary>
internal static class CarryPage
{
    /// <summary>Where it stands.</summary>
    public const string Path = $"{MachinesPage.Path}/carry";

    /// <summary>The page.</summary>
    /// <param name="context">Who asks.</param>
    /// <param name="shop">What it is about.</param>
    /// <param name="from">The old machine; null where none was chosen yet.</param>
    /// <param name="to">The new one.</param>
    public static string Write(HttpContext context, Workshop shop, string? from, string? to)
    {
        Outcome<SettingsBook> book = shop.Settings.Take(new());
        string[] burned = book.IsRefused ? [] : [.. book.Value.Settings.Select(each => Voice.Tell(each.MachineFigure())).Distinct()];
        return Shell.Write(
            context, Voice.Say("web.carry.title"),
            new XElement("h1", Voice.Say("web.carry.title")),
            Html.Paragraph(Html.Class("hint"), Voice.Say("web.carry.what")),
            burned.Length == 0 ? Html.Paragraph(Voice.Say("book.none")) : Ask(shop.ProfilesOf(context), burned, from, to),
            from is null || to is null
                ? null
                : LivePart.Write(
                    AddressOf($"{Path}/list", [("from", from), ("to", to)]), [Topic.Archive, Topic.Profiles],
                    List(context, shop, from, to)));
    }

    /// <summary>What is carried over, by the cards that there are now.</summary>
    public static XElement List(HttpContext context, Workshop shop, string from, string to)
    {
        Profiles profiles = shop.ProfilesOf(context);
        Outcome<CarriedBook> carried = CarriedBook.Of(shop.Archive, profiles, from, to);
        if (carried.IsRefused) return LivePart.Content(RefusalPart.Write(carried.Refusal!));
        CarriedBook book = carried.Value;
        return LivePart.Content(
            Html.Paragraph(Html.Class("promise"), Voice.Say("carry.lead", ("from", book.From.ToFigure()), ("to", book.To.ToFigure()))),
            book.IsWavelengthUnknown ? Html.Paragraph(Html.Class("judgement doubtful"), Voice.Say("carry.wavelength-unknown")) : null,
            book.Processes.Select(process => Part(profiles, book, process)),
            Html.Paragraph(Html.Class("promise"), Voice.Say("book.caution")));
    }

    private static XElement Ask(Profiles profiles, string[] burned, string? from, string? to)
    {
        IEnumerable<string> kept = profiles.KeptMachines().Where(each => !each.IsRefused).Select(each => each.Value.Name);
        string[] all = [.. burned.Concat(kept).Distinct(StringComparer.OrdinalIgnoreCase)];
        return new(
            "form", Html.Class("ask"), new XAttribute("action", Path),
            Field.Choice("from", from, Words(burned)),
            Field.Choice("to", to ?? all.LastOrDefault(name => name != burned[0]), Words(all)),
            new XElement("button", Html.Class("large first"), Voice.Say("web.carry.do")),
            Html.Paragraph(new XElement("a", new XAttribute("href", MachinesPage.FormPath(isMachine: true)),
                Voice.Say("web.machines.add", ("kind", "machine")))));

        static (string, string)[] Words(string[] names) => [.. names.Select(name => (name, name))];
    }

    private static XElement Part(Profiles profiles, CarriedBook book, CarriedProcess process) => Html.Section(
        $"carry-{process.Process}", Voice.Say("carry.process", ("process", $"{process.Process}")),
        Html.Paragraph(Html.Class("lead"), Voice.Tell(process.ToFigure())),
        process.LeftOut.Select(left => Html.Paragraph(Html.Class("doubt"), Voice.Tell(left.ToFigure(book.To)))),
        process.Process == Process.Cut ? Html.Paragraph(Voice.Say("carry.kerf")) : null,
        process.First.Count == 0
            ? null
            : new XElement("div", Html.Paragraph(Voice.Tell(process.FirstFigure())),
                new XElement("ol", process.First.Select(row => First(profiles, row, book.To)))),
        new XElement("ul", Html.Class("entries"), process.Rows
            .GroupBy(row => Voice.Tell(row.From.Card.MaterialFigure())).Select(material => new XElement(
                "li",
                new XElement("p", Html.Class("about"), new XElement("strong", material.Key)),
                EntryParts.Hazards(material.First().From.Card),
                material.Select(row => new[]
                {
                    Html.Paragraph(Html.Class("big"), Voice.Tell(row.TryFigure())), Html.Paragraph(Voice.Tell(row.RangeFigure())),
                })))));

    private static XElement First(Profiles profiles, CarriedRow row, Machine machine) => new(
        "li", Voice.Tell(row.From.Card.MaterialFigure()), " ",
        new XElement("a", Html.Class("button"), new XAttribute("href", CardOf(profiles, row, machine)), Voice.Say("web.carry.make"))
            .For(MemberRole.Add));

    /// <summary>The form for a card with everything filled in.</summary>
    private static string CardOf(Profiles profiles, CarriedRow row, Machine machine)
    {
        bool isKept = profiles.OfName(machine.Name, isMachine: true) is not null;
        IEnumerable<(string Name, string Value)> own = isKept
            ? [("machine", machine.Name)]
            : [("machine", ""), ("name", machine.Name), ("watts", Voice.TellBare(In(Unit.Given, machine.RatedOpticalWatts)))];
        return AddressOf(MakePage.Path, own.Concat(PlanLine.OptionsOf(row, machine)));
    }

    private static string AddressOf(string path, IEnumerable<(string Name, string Value)> fields) =>
        path + QueryString.Create(fields.Select(field => KeyValuePair.Create(field.Name, (string?)field.Value)));
}
