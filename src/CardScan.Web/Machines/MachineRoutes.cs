using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>Keeping machines and materials, and choosing the usual ones. Nothing here removes one.</summary>
internal static class MachineRoutes
{
    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet(MachinesPage.Path, (HttpContext context) => Answer.Page(MachinesPage.Write(context, shop)));
        routes.MapGet($"{MachinesPage.Path}/list", (HttpContext context) => Answer.Part(MachinesPage.List(context, shop)));
        foreach (bool isMachine in new[] { true, false })
        {
            string path = MachinesPage.FormPath(isMachine);
            routes.MapGet(path, (HttpContext context, string? name) => Form(context, shop, isMachine, name));
            routes.MapPost(path, (Delegate)((HttpContext context) => Keep(context, shop, isMachine))).For(MemberRole.Add);
        }

        routes.MapGet(ChangesPage.Path, (HttpContext context) =>
            Answer.Page(ChangesPage.Write(context, HistoryBook.Of(shop.Archive, null))));
        routes.MapGet($"{ChangesPage.Path}/list", () => Answer.Part(ChangesPage.List(HistoryBook.Of(shop.Archive, null))));
        routes.MapPost(ChangesPage.Path, (Delegate)((HttpContext context) => Note(context, shop))).For(MemberRole.Add);
        routes.MapPost($"{ChangesPage.Path}/m{{id:long:min(1)}}/back", (HttpContext context, long id) =>
            Noted(context, shop, HistoryBook.RemoveChange(shop.ArchiveOf(context), MachineChange.NameOf(id))));
        routes.MapGet(CarryPage.Path, (HttpContext context, string? from, string? to) =>
            Answer.Page(CarryPage.Write(context, shop, from, to)));
        routes.MapGet($"{CarryPage.Path}/list", (HttpContext context, string from, string to) =>
            Answer.Part(CarryPage.List(context, shop, from, to)));
        routes.MapPost($"{MachinesPage.Path}/default", (Delegate)((HttpContext context) => Default(context, shop))).For(MemberRole.Look);
        routes.MapPost($"{MachinesPage.Path}/units", (Delegate)((HttpContext context) => Units(context, shop))).For(MemberRole.Look);
    }

    private static IResult Form(HttpContext context, Workshop shop, bool isMachine, string? name)
    {
        if (string.IsNullOrEmpty(name)) return Answer.Page(MachinesPage.Form(context, isMachine, null));
        return shop.ProfilesOf(context).OfName(name, isMachine) is { } kept
            ? Answer.Page(MachinesPage.Form(context, isMachine, kept))
            : Answer.Missing(context);
    }

    private static async Task<IResult> Keep(HttpContext context, Workshop shop, bool isMachine)
    {
        TypedFields typed = await TypedFields.Of(context);
        Profiles profiles = shop.ProfilesOf(context);
        string? old = typed.Text("kept");
        // Machines are a member's own, materials are everybody's.
        if (!isMachine && (old is not null || typed.Is("replace")) && !DoorKeeper.GuestOf(context).May(MemberRole.Keep))
            return Answer.Refused(Refusal.OfInput(Codes.MemberRoleTooLow));
        Outcome<string> saved = old is not null
            ? Change(profiles, typed, isMachine, old)
            : isMachine ? NewMachine(profiles, typed) : NewMaterial(profiles, typed);
        if (saved.IsRefused) return Answer.Refused(saved.Refusal!);
        if (!isMachine && shop.Page is not null)
            shop.ArchiveOf(context).Members.Note(DeedKind.MaterialKept, old ?? typed.Text("name") ?? "");
        shop.Bell.Ring(Topic.Profiles);
        return Answer.Go(context, MachinesPage.Path);
    }

    private static Outcome<string> NewMachine(Profiles profiles, TypedFields typed)
    {
        if (typed.Text("name") is not { } name) return Nameless;
        Machine? machine = MachineFields.Over(name, null, typed);
        if (typed.Fault is { } fault) return fault;
        return machine is null ? profiles.WattsMissing(name) : profiles.Save(machine, typed.Is("replace"));
    }

    private static Outcome<string> NewMaterial(Profiles profiles, TypedFields typed)
    {
        if (typed.Text("name") is not { } name) return Nameless;
        Outcome<Material> material = MaterialFields.Over(new() { Name = name, Notes = typed.Text("notes") }, typed);
        if ((typed.Fault ?? material.Refusal) is { } fault) return fault;
        return profiles.Save(material.Value, typed.Is("replace"));
    }

    /// <summary>What is not typed stays as it is.</summary>
    private static Outcome<string> Change(Profiles profiles, TypedFields typed, bool isMachine, string name)
    {
        if (profiles.OfName(name, isMachine) is not { } old) return profiles.MissingOf(name, isMachine);
        if (isMachine)
        {
            Machine machine = MachineFields.Over(old.Name, old.Machine!.Content, typed)!;
            return typed.Fault is { } fault ? fault : Profiles.Replace(old, machine);
        }

        Outcome<Material> material = MaterialFields.Over(old.Material!.Content, typed);
        if ((typed.Fault ?? material.Refusal) is { } refusal) return refusal;
        return Profiles.Replace(old, material.Value with { Notes = typed.Text("notes") ?? material.Value.Notes });
    }

    private static Refusal Nameless => Refusal.OfInput(Codes.PlanValue, ("option", new OptionName("--name"))) with
    {
        Seen = Voice.Say("web.machines.nameless.seen"), Remedy = Voice.Say("web.machines.nameless.remedy"),
    };

    private static async Task<IResult> Note(HttpContext context, Workshop shop)
    {
        TypedFields typed = await TypedFields.Of(context);
        return Noted(context, shop, HistoryBook.AddChange(
            shop.ArchiveOf(context), typed.Text("machine"), typed.Text("changed") ?? "", on: null));
    }

    private static IResult Noted(HttpContext context, Workshop shop, Outcome<MachineChange> change)
    {
        if (change.IsRefused) return Answer.Refused(change.Refusal!);
        shop.Bell.Ring(Topic.Archive);
        return Answer.Go(context, ChangesPage.Path);
    }

    private static async Task<IResult> Default(HttpContext context, Workshop shop)
    {
        TypedFields typed = await TypedFields.Of(context);
        bool isMachine = typed.Text("kind") != "material";
        string name = typed.Text("name") ?? "";
        Profiles profiles = shop.ProfilesOf(context);
        if (profiles.OfName(name, isMachine) is not { } kept) return Answer.Refused(profiles.MissingOf(name, isMachine));
        return Prefer(context, shop, before => typed.Is("off") ? Profiles.Without(before, kept) : Profiles.WithDefault(before, kept));
    }

    private static async Task<IResult> Units(HttpContext context, Workshop shop)
    {
        TypedFields typed = await TypedFields.Of(context);
        string? word = typed.Word("unit", [.. Preferences.SpeedWords]);
        if (typed.Fault is { } fault) return Answer.Refused(fault);
        return Prefer(context, shop, before => before with { Speeds = Preferences.SpeedsOf(word) ?? before.Speeds });
    }

    private static IResult Prefer(HttpContext context, Workshop shop, Func<Preferences, Preferences> change)
    {
        Outcome<Preferences> after = Choose(context, shop, change);
        if (after.IsRefused) return Answer.Refused(after.Refusal!);
        using IDisposable told = Voice.TellSpeedsIn(after.Value.Speeds ?? SpeedUnit.MmPerMin);
        return Answer.Part(MachinesPage.List(context, shop));
    }

    /// <summary>Keeps another choice for every page and command, or, of a member, for theirs.</summary>
    /// <returns>What is chosen now; or why it could not be kept.</returns>
    public static Outcome<Preferences> Choose(HttpContext context, Workshop shop, Func<Preferences, Preferences> change)
    {
        Profiles profiles = shop.ProfilesOf(context);
        Outcome<Preferences> before = profiles.ReadPreferences();
        if (before.IsRefused) return before;
        Preferences after = change(before.Value);
        Outcome<string> saved = profiles.Save(after);
        if (saved.IsRefused) return saved.Refusal!;
        shop.Bell.Ring(Topic.Profiles);
        return after;
    }
}
