using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>The machines and materials that are kept, which of them are the usual ones, and the unit of speeds.</summary>
internal static class MachinesPage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/machines";

    /// <summary>Address of the form for a machine or a material.</summary>
    public static string FormPath(bool isMachine) => $"{Path}/{KindOf(isMachine)}";

    /// <summary>The word for a machine or a material.</summary>
    public static string KindOf(bool isMachine) => isMachine ? "machine" : "material";

    public static string Write(HttpContext context, Workshop shop) => Shell.Write(
        context, Voice.Say("web.way", ("to", "machines")),
        new XElement("h1", Voice.Say("web.way", ("to", "machines"))),
        LivePart.Write($"{Path}/list", [Topic.Profiles], List(context, shop)),
        Html.Paragraph(new XElement("a", new XAttribute("href", CarryPage.Path), Voice.Say("web.carry.look"))),
        Html.Paragraph(new XElement("a", new XAttribute("href", ChangesPage.Path), Voice.Say("web.changes.look"))),
        shop.Page is null ? Html.Paragraph(Html.Class("hint"), Voice.Say("web.machines.remove")) : null);

    /// <summary>Everything that is kept.</summary>
    public static XElement List(HttpContext context, Workshop shop)
    {
        Profiles profiles = shop.ProfilesOf(context);
        Outcome<Preferences> read = profiles.ReadPreferences();
        Preferences usual = read.IsRefused ? new() : read.Value;
        return LivePart.Content(
            read.Refusal is { } fault ? RefusalPart.Write(fault) : null,
            Kept("machine", profiles.KeptMachines(), usual),
            Kept("material", profiles.KeptMaterials(), usual),
            Html.Section("units", Voice.Say("web.machines.units"), new XElement("div", Html.Class("doing"),
                Preferences.SpeedWords.Select(word => Unit(word, word == Preferences.WordOf(usual.Speeds ?? SpeedUnit.MmPerMin))))));
    }

    /// <summary>The form for a new profile, or for one that is kept.</summary>
    public static string Form(HttpContext context, bool isMachine, KeptProfile? kept)
    {
        TypedFields typed = new(_ => null);
        string kind = KindOf(isMachine), title = kept is null
            ? Voice.Say("web.machines.add", ("kind", kind))
            : Voice.Say("web.machines.edit-title", ("name", kept.Name));
        return Shell.Write(
            context, title,
            new XElement("h1", title),
            Html.Paragraph(Html.Class("hint"), Voice.Say("web.machines.how", ("kind", kind), ("kept", Is(kept is not null)))),
            new XElement(
                "form", Html.Class("ask"), new XAttribute("method", "post"), new XAttribute("action", FormPath(isMachine)),
                new XAttribute("data-post", ""), new XAttribute("data-into", "said"),
                kept is null ? Field.Of("name") : Field.Hidden("kept", kept.Name),
                isMachine
                    ? (XElement[])[.. MachineFields.First(typed, kept?.Machine?.Content),
                        .. MachineFields.Others(typed, kept?.Machine?.Content)]
                    : Material(typed, kept?.Material?.Content),
                kept is null ? Field.Box("replace", false, Voice.Say("option.replace")) : null,
                new XElement("button", Html.Class("large first"), Voice.Say("web.machines.keep")),
                new XElement("div", new XAttribute("id", "said"), new XAttribute("role", "status"))));
    }

    private static XElement[] Material(TypedFields typed, Material? known) =>
    [
        .. MaterialFields.First(typed, known), .. MaterialFields.Marks(typed, known?.Mark),
        Field.Of("notes", null, known?.Notes),
    ];

    private static XElement Kept(string kind, IEnumerable<Outcome<KeptProfile>> kept, Preferences usual)
    {
        XElement[] items = [.. kept.Select(each =>
            each.IsRefused ? new("li", RefusalPart.Write(each.Refusal!)) : Item(kind, each.Value, usual))];
        return Html.Section(
            $"{kind}s", Voice.Say("web.machines.kept", ("kind", kind)),
            items.Length == 0
                ? Html.Paragraph(Voice.Say("web.machines.none", ("kind", kind)))
                : new XElement("ul", Html.Class("phones"), items),
            Html.Paragraph(new XElement("a", Html.Class("button"), new XAttribute("href", $"{Path}/{kind}"),
                Voice.Say("web.machines.add", ("kind", kind)))).For(MemberRole.Add));
    }

    private static XElement Item(string kind, KeptProfile profile, Preferences usual)
    {
        bool isDefault = Profiles.IsDefault(usual, profile);
        IEnumerable<string> warnings = profile.Machine is { } machine
            ? Profiles.HintsFor(machine.Content).Select(hint => hint.Message)
            : new[] { Profiles.DangerOf(profile.Material!.Content) }.OfType<string>();
        return new(
            "li",
            new XElement("div",
                isDefault ? new XElement("strong", Voice.Say("web.machines.is-default")) : null, " ",
                new XElement("span", Voice.Tell(profile.InWords)),
                profile.Material?.Content.Notes is { Length: > 0 } notes ? Html.Paragraph(Html.Class("hint"), notes) : null,
                warnings.Select(warning => Html.Paragraph(Html.Class("change"), warning))),
            new XElement("div", Html.Class("doing"),
                new XElement("a", Html.Class("button"),
                    new XAttribute("href", $"{Path}/{kind}?name={Uri.EscapeDataString(profile.Name)}"), Voice.Say("web.machines.edit"))
                    .For(profile.Machine is null ? MemberRole.Keep : MemberRole.Add),
                Field.Button($"{Path}/default", null, Voice.Say("web.machines.default", ("is", Is(isDefault))), "button",
                    Field.Hidden("kind", kind), Field.Hidden("name", profile.Name), isDefault ? Field.Hidden("off", "on") : null)));
    }

    private static XElement Unit(string word, bool isChosen)
    {
        XElement form = Field.Button($"{Path}/units", null, word, isChosen ? "button first" : "button", Field.Hidden("unit", word));
        form.Element("button")!.Add(new XAttribute("aria-pressed", isChosen ? "true" : "false"));
        return form;
    }
}
