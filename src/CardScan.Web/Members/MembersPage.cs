using System.Globalization;
using CardScan.Model;
using CardScan.Reporting;

namespace CardScan.Web;

/// <summary>Who is a member of the workshop, who is invited, and what a member finds of themselves.</summary>
internal static class MembersPage
{
    /// <summary>Where everybody is; for those who keep the workshop.</summary>
    public const string Path = "/members";

    /// <summary>Where a member finds themselves.</summary>
    public const string OwnPath = "/me";

    private static readonly (string Path, string Name, MemberRole Least)[] Ways =
    [
        (MachinesPage.Path, "machines", MemberRole.Look), (ComparePage.Path, "compare", MemberRole.Look),
        (Path, "members", MemberRole.Keep), (RecordPage.Path, "record", MemberRole.Keep),
    ];

    public static string Write(HttpContext context, Workshop shop) => Shell.Write(
        context, Voice.Say("web.way", ("to", "members")),
        new XElement("h1", Voice.Say("web.way", ("to", "members"))),
        LivePart.Write($"{Path}/list", [Topic.Guests], List(context, shop)),
        Html.Section("invite", Voice.Say("web.members.invite"),
            new XElement(
                "form", Html.Class("ask"), new XAttribute("method", "post"), new XAttribute("action", $"{Path}/invite"),
                new XAttribute("data-post", ""), new XAttribute("data-into", "invited"),
                EntryParts.Field(Voice.Say("web.members.role"), Roles(MemberRole.Add)),
                EntryParts.Field(Voice.Say("web.members.times", ("most", InvitationToMake.MostTimes)), Number("times", 1)),
                EntryParts.Field(Voice.Say("web.members.days", ("most", InvitationToMake.MostDays)),
                    Number("days", InvitationToMake.UsualDays)),
                new XElement("button", Html.Class("first"), Voice.Say("web.members.do"))),
            new XElement("div", new XAttribute("id", "invited"), new XAttribute("role", "status"))));

    /// <summary>The members and the invitations that are open.</summary>
    public static XElement List(HttpContext context, Workshop shop)
    {
        Outcome<ValueList<Member>> members = shop.Archive.Members.All();
        Outcome<ValueList<Invitation>> invitations = shop.Archive.Members.Invitations();
        if ((members.Refusal ?? invitations.Refusal) is { } refusal) return LivePart.Content(RefusalPart.Write(refusal));
        Invitation[] open = [.. invitations.Value.Where(invitation => invitation.Member is null)];
        return LivePart.Content(
            new XElement("ul", Html.Class("phones"), members.Value.Select(member => Item(context, member))),
            open.Length == 0
                ? null
                : Html.Section("open", Voice.Say("web.members.open"), new XElement("ul", Html.Class("phones"), open.Select(Item))));
    }

    /// <summary>A link that was just made: shown once.</summary>
    /// <param name="page">Where the page is.</param>
    /// <param name="made">The invitation.</param>
    public static XElement Invited(WorkshopPage page, NewInvitation made)
    {
        string link = page.LinkOf(made.Code);
        return LivePart.Content(
            Html.Paragraph(Html.Class("lead"), Voice.Say("web.members.made", Known(
                ("times", made.Invitation.TimesLeft), ("until", EntryParts.Time(made.Invitation.Until)),
                ("name", Figures.Text(made.Invitation.Member?.Name))))),
            LinkCode.Of(link).ToSvg(),
            Html.Paragraph(Html.Class("address"), new XElement("a", new XAttribute("href", link), link)));
    }

    /// <summary>What a member finds of themselves: what they may do, the browsers that know them, and how to let in another.</summary>
    public static string Own(HttpContext context, Workshop shop)
    {
        Guest guest = DoorKeeper.GuestOf(context);
        return Shell.Write(
            context, guest.Member!.Name,
            new XElement("h1", guest.Member.Name),
            Html.Paragraph(Html.Class("lead"), Voice.Say("web.me.role", ("role", EnumName.Of(guest.Role)))),
            Html.Paragraph(Html.Class("ways small"), Ways.Where(way => guest.May(way.Least)).Select(way =>
                new XElement("a", Html.Class("button"), new XAttribute("href", way.Path), Voice.Say("web.way", ("to", way.Name))))),
            Html.Section("device", Voice.Say("web.me.device"),
                Html.Paragraph(Html.Class("hint"), Voice.Say("web.me.device-what")),
                Field.Button($"{OwnPath}/device", "invited", Voice.Say("web.phones.open"), "button"),
                new XElement("div", new XAttribute("id", "invited"), new XAttribute("role", "status"))),
            LivePart.Write($"{OwnPath}/list", [Topic.Guests], Devices(shop, guest.Member)));
    }

    /// <summary>The browsers in which a member is known.</summary>
    public static XElement Devices(Workshop shop, Member member)
    {
        Outcome<ValueList<MemberDevice>> devices = shop.Archive.Members.DevicesOf(member);
        return LivePart.Content(devices.IsRefused
            ? RefusalPart.Write(devices.Refusal!)
            : Html.Section("devices", Voice.Say("web.me.devices"), new XElement("ul", Html.Class("phones"), devices.Value.Select(Item))));
    }

    private static XElement Item(HttpContext context, Member member)
    {
        string path = $"{Path}/{member.Id}";
        XElement who = new(
            "div", new XElement("strong", member.Name), " ", Voice.Say("web.members.item", ("day", EntryParts.Day(member.Joined))));
        // Nobody changes their own role, so that somebody always keeps the workshop.
        if (DoorKeeper.GuestOf(context).Member?.Id == member.Id)
            return new("li", who, new XElement("span", Voice.Say("web.members.you", ("role", EnumName.Of(member.Role)))));
        XElement role = Field.Button($"{path}/role", null, Voice.Say("web.members.change"), "button",
            Roles(member.Role, Voice.Say("web.members.role-of", ("name", member.Name))));
        role.Add(Html.Class("choose"));
        return new("li", who, new XElement("div", Html.Class("doing"),
            role,
            Field.Button($"{path}/device", "invited", Voice.Say("web.members.device"), "button"),
            Field.Button($"{path}/away", null, Voice.Say("web.phones.away"), "button")));
    }

    private static XElement Item(Invitation invitation) => new(
        "li", new XElement("span", Voice.Say("web.members.invitation", ("role", EnumName.Of(invitation.Role)), ("by", invitation.By),
            ("times", invitation.TimesLeft), ("until", EntryParts.Time(invitation.Until)))),
        Field.Button($"{Path}/invitations/{invitation.Id}/withdraw", null, Voice.Say("web.members.withdraw"), "button"));

    private static XElement Item(MemberDevice device) => new(
        "li", new XElement("span", Voice.Say("web.me.device-item", ("device", device.Device), ("since", EntryParts.Day(device.Since)),
            ("seen", device.SeenOn.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture)))),
        Field.Button($"{OwnPath}/devices/{device.Id}/out", null, Voice.Say("web.me.out"), "button"));

    private static XElement Roles(MemberRole chosen, string? label = null)
    {
        XElement select = EntryParts.Select("role", EnumName.Of(chosen), Enum.GetValues<MemberRole>().Select(role =>
            (EnumName.Of(role), Voice.Say("web.members.may", ("role", EnumName.Of(role))))));
        if (label is not null) select.Add(new XAttribute("aria-label", label));
        return select;
    }

    private static XElement Number(string name, int value) => EntryParts.Input(
        "text", name, value.ToString(CultureInfo.InvariantCulture), new XAttribute("inputmode", "numeric"));
}
