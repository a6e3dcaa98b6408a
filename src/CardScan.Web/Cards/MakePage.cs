using CardScan.Model;
using CardScan.Reporting;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Making a card: what is asked for on one side, and on the other the card as it will burn, which follows every change.</summary>
internal static class MakePage
{
    /// <summary>Where it stands.</summary>
    public const string Path = "/cards/new";

    /// <summary>Where the card that follows is fetched.</summary>
    public const string FollowPath = $"{Path}/card";

    /// <summary>Where a grey strip is asked for.</summary>
    public const string StripPath = "/cards/strip";

    /// <summary>Id of the part that follows.</summary>
    private const string Follows = "planned";

    /// <summary>The page.</summary>
    public static string Write(HttpContext context, CardForm form, XElement card) => Shell.Write(
        context, Voice.Say("web.way", ("to", "make")),
        new XElement("h1", Voice.Say("web.way", ("to", "make"))),
        new XElement("div", Html.Class("making"),
            new XElement(
                "form", Html.Class("ask"), new XAttribute("action", FollowPath), new XAttribute("data-follow", Follows),
                Main(form), Ranges(form), Sizes(form), Passes(form), Named(form),
                Html.Paragraph(new XElement("a", new XAttribute("href", MachinesPage.Path), Voice.Say("web.way", ("to", "machines"))))),
            new XElement("div", new XAttribute("id", Follows), new XAttribute("aria-live", "polite"), card)),
        new XElement("div", Html.Class("doing"), Field.Button(StripPath, "strip", Voice.Say("web.card.strip"), "button")),
        new XElement("div", new XAttribute("id", "strip"), new XAttribute("role", "status")),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.card.strip-what")));

    /// <summary>The card as it will burn, with what to mind, and the button below all of it.</summary>
    public static XElement Card(CardForm form, CardRequest request, PlannedCard planned) => new(
        "div",
        new XElement("h2", Voice.Say("terminal.card", ("number", planned.Plan.Number))),
        Html.Paragraph(Html.Class("lead"), Voice.Tell(planned.Size)),
        new XElement("div", Html.Class("look"),
            XElement.Parse(planned.Drawing),
            new XElement("div",
                Html.Paragraph(Html.Class("lead"), Voice.Tell(planned.Burning)),
                Html.Paragraph(Voice.Tell(planned.Axes)),
                Html.Paragraph(Voice.Tell(planned.Plan.EveryCell())),
                planned.Start is { } start ? Html.Paragraph(Voice.Tell(start)) : null,
                CardParts.Warnings(planned, form.NearMaterial is { } near
                    ? Voice.Say("terminal.profile-near", ("kind", "material"), ("name", request.Plan.Material.Name), ("near", near))
                    : null),
                planned.WithoutMachineFile?.Code == Codes.MachineIncomplete ? Mend("area", Voice.Say("web.make.machine-others")) : null)),
        CardParts.Cautions(planned.Cautions),
        Field.Button("/cards", "made", Voice.Say("web.make.do", ("number", planned.Plan.Number)), "large first",
            CardForm.Names.Select(name => form.Typed.Given(name) is { Length: > 0 } value ? Field.Hidden(name, value) : null)),
        new XElement("div", new XAttribute("id", "made"), new XAttribute("role", "status")),
        Taken(form, planned.Plan));

    /// <summary>Why there is no card, and the field that mends it.</summary>
    public static XElement Refused(CardForm form, Refusal refusal) => new(
        "div", RefusalPart.Write(refusal), FieldOf(refusal) is { } field
            ? Mend(field, Field.NameOf(field))
            : null,
        form.Machine is { } machine ? MachineFields.Taken(machine) : null);

    /// <summary>What stands there before anything can be planned.</summary>
    public static XElement Beginning(CardForm form) => new(
        "div", Html.Paragraph(Html.Class("lead"), Voice.Say("web.make.begin")),
        form.Machine is { } machine ? MachineFields.Taken(machine) : null);

    /// <summary>Leads to the field that mends something; the folds around it open by themselves.</summary>
    private static XElement Mend(string field, string words) => Html.Paragraph(new XElement(
        "a", Html.Class("button"), new XAttribute("href", $"#{field}"), words));

    private static string? FieldOf(Refusal refusal) => refusal.Code switch
    {
        Codes.MaterialDangerous or Codes.RiskUnknown => "accept-risk",
        Codes.PlanNoMaterial => "material",
        Codes.MachineWatts => "watts",
        _ when refusal.Values.TryGetValue("option", out Figure? option) && option is OptionName { Text: var text } => Named(text),
        _ => null,
    };

    private static string? Named(string option) => CardForm.Names.FirstOrDefault(name => TypedFields.OptionOf(name) == option);

    private static XElement[] Main(CardForm form) =>
    [
        Field.Choice("machine", form.Machine is null ? "" : form.Machines.First(kept => kept.Machine!.Content == form.Machine).Name,
            [.. form.Machines.Select(kept => (kept.Name, Voice.Say("web.make.machine", ("name", kept.Name),
                ("watts", In(Unit.Watts, kept.Machine!.Content.RatedOpticalWatts))))), ("", Voice.Say("web.make.other-machine"))]),
        Field.Fold(
            Voice.Say("web.make.machine-figures"), form.Machine is null,
            new XElement("div", Html.Class("only-other"), Field.Of("name", form.Typed.Text("name"), Voice.Say("option.value.machine"))),
            MachineFields.First(form.Typed, form.Machine),
            Field.Fold(Voice.Say("web.make.machine-others"), false, MachineFields.Others(form.Typed, form.Machine)),
            new XElement("div", Html.Class("only-other"),
                Field.Box("keep-machine", form.Typed.Is("keep-machine"), Voice.Say("web.make.keep-machine")))),
        MaterialName(form),
        .. MaterialFields.First(form.Typed, form.Material),
        new(
            "fieldset", Html.Class("either"), new XElement("legend", Field.NameOf("process")),
            Radio("process", "engrave", form.Typed.Text("process") != "cut"), Radio("process", "cut", form.Typed.Text("process") == "cut")),
        Field.Fold(
            Voice.Say("web.make.material-more"), form.Typed.Text("accept-risk") is not null,
            Field.Box("keep-material", form.Typed.Is("keep-material"), Voice.Say("web.make.keep-material")),
            MaterialFields.Marks(form.Typed, form.Material?.Mark),
            Field.Told("accept-risk", form.Typed.Text("accept-risk"))),
    ];

    private static XElement MaterialName(CardForm form)
    {
        XElement field = Field.Of("material", form.Typed.Text("material"), form.UsualMaterial, new XAttribute("list", "materials"));
        field.Add(new XElement("datalist", new XAttribute("id", "materials"),
            form.Materials.Select(kept => new XElement("option", new XAttribute("value", kept.Name)))));
        return field;
    }

    private static XElement Ranges(CardForm form) => Field.Fold(
        Voice.Say("web.make.ranges"), Any(form, "power", "speed", "passes", "line-interval", "focus-offset", "kind"),
        Html.Paragraph(Html.Class("hint"), Voice.Say("web.make.ranges-how")),
        Told(form, "power", "speed", "passes", "line-interval", "focus-offset"),
        Field.Box("kind", form.Typed.Is("kind"), Voice.Say("web.make.ladder")));

    private static XElement Sizes(CardForm form) => Field.Fold(
        Voice.Say("web.make.sizes"), Any(form, "cell", "gap", "marker", "card", "frame", "tabs", "tab-length"),
        Told(form, "cell", "gap", "marker", "card"),
        Field.Choice("frame", form.Typed.Text("frame"), Words("frame-none", "a4", "letter")),
        Told(form, "tabs", "tab-length"));

    private static XElement Passes(CardForm form) => Field.Fold(
        Voice.Say("web.make.passes"), Any(form, "air", "air-pressure", "focus-step", "pass-pause", "cell-pause"),
        Field.Choice("air", form.Typed.Text("air"), Words("air-none", "on", "off")),
        Told(form, "air-pressure", "focus-step", "pass-pause", "cell-pause"));

    private static XElement Named(CardForm form) => Field.Fold(
        Voice.Say("web.make.named"), Any(form, "title", "seed"), Told(form, "title", "seed"));

    private static (string, string)[] Words(string none, params string[] words) =>
        [("", Voice.Say("web.choice", ("of", none))), .. words.Select(word => (word, Voice.Say("web.choice", ("of", word))))];

    private static IEnumerable<XElement> Told(CardForm form, params string[] names) =>
        names.Select(name => Field.Told(name, form.Typed.Text(name)));

    private static bool Any(CardForm form, params string[] names) => names.Any(name => form.Typed.Text(name) is not null);

    private static XElement Radio(string name, string value, bool isChosen) => new(
        "label", Html.Class("tick-box"),
        new XElement("input", new XAttribute("type", "radio"), new XAttribute("name", name), new XAttribute("value", value),
            isChosen ? new XAttribute("checked", "") : null),
        new XElement("span", Voice.Say("web.choice", ("of", value))));

    /// <summary>What the plan took for each field that is empty.</summary>
    private static IEnumerable<XElement> Taken(CardForm form, Plan plan) =>
    [
        .. MachineFields.Taken(plan.Machine),
        .. Enum.GetValues<Setting>().Select(setting => Field.Taken(SettingRange.OptionOf(setting)[2..], ValuesOf(plan, setting))),
        Field.Taken("thickness", plan.Material.ThicknessMm is { } mm ? Voice.Tell(Mm(mm)) : ""),
        Field.Taken("batch", plan.Material.Batch ?? ""),
        Field.Taken("cell", Voice.Tell(Mm(plan.Cells[0].WidthMm))),
        Field.Taken("marker", Voice.Tell(Mm(plan.Fiducials.SideMm))),
        Field.Taken("card", MachineFields.SizeText(plan.Card.WidthMm, plan.Card.HeightMm)),
        Field.Taken("mark-power", Voice.Tell(Power(plan.Burning!.Marks.PowerPercent))),
        Field.Taken("mark-speed", Voice.Tell(Speed(plan.Burning.Marks.SpeedMmPerMin))),
        Field.Taken("seed", $"{plan.Burning.Seed}"),
        Field.Taken("material", form.UsualMaterial ?? ""),
    ];

    /// <summary>As it would be typed: the values, then their unit.</summary>
    private static string ValuesOf(Plan plan, Setting setting)
    {
        double[] values = plan.Columns.Setting == setting ? [.. plan.Columns.Values]
            : plan.Rows.Setting == setting ? [.. plan.Rows.Values]
            : plan.SettingsOf(plan.Cells[0]).ValueOf(setting) is { } value ? [value] : [];
        // A focus has its sign as a keyboard has it.
        Figure[] told = [.. values.Select(value => setting == Setting.FocusOffsetMm ? Mm(value) : SettingNumber.Of(setting, value))];
        return told.Length == 0 ? "" : Voice.Say("web.make.values", ("values", List(told)), ("setting", $"{setting}"));
    }
}
