using CardScan.Model;

namespace CardScan.Web;

/// <summary>Inviting people, changing what they may do, and sending them away.</summary>
internal static class MemberRoutes
{
    /// <summary>How long a link for one's own device is good: as long as a phone's code.</summary>
    private static readonly TimeSpan DeviceLinkLife = TimeSpan.FromMinutes(10);

    public static void Map(IEndpointRouteBuilder routes, Workshop shop)
    {
        routes.MapGet(MembersPage.OwnPath, (HttpContext context) => Answer.Page(MembersPage.Own(context, shop)));
        routes.MapGet($"{MembersPage.OwnPath}/list", (HttpContext context) => Answer.Part(MembersPage.Devices(shop, MemberOf(context))));
        routes.MapPost($"{MembersPage.OwnPath}/device",
            (HttpContext context) => Invited(context, shop, new() { MemberId = MemberOf(context).Id, Life = DeviceLinkLife }))
            .For(MemberRole.Look);
        routes.MapPost($"{MembersPage.OwnPath}/devices/{{id:long:min(1)}}/out", (HttpContext context, long id) =>
        {
            Outcome<ValueList<MemberDevice>> left = shop.Archive.Members.SignOut(MemberOf(context), id);
            return Changed(shop, left.Refusal, () => MembersPage.Devices(shop, MemberOf(context)));
        }).For(MemberRole.Look);
        routes.MapGet(RecordPage.Path, (HttpContext context) => Answer.Page(RecordPage.Write(context, shop))).For(MemberRole.Keep);
        routes.MapGet($"{RecordPage.Path}/list", () => Answer.Part(RecordPage.List(shop))).For(MemberRole.Keep);
        MapKeeping(routes, shop);
    }

    private static void MapKeeping(IEndpointRouteBuilder routes, Workshop shop)
    {
        const string Member = $"{MembersPage.Path}/{{id:long:min(1)}}";
        routes.MapGet(MembersPage.Path, (HttpContext context) => Answer.Page(MembersPage.Write(context, shop))).For(MemberRole.Keep);
        routes.MapGet($"{MembersPage.Path}/list", (HttpContext context) => Answer.Part(MembersPage.List(context, shop)))
            .For(MemberRole.Keep);
        routes.MapPost($"{MembersPage.Path}/invite", (Delegate)((HttpContext context) => Invite(context, shop))).For(MemberRole.Keep);
        routes.MapPost($"{MembersPage.Path}/invitations/{{id:long:min(1)}}/withdraw", (HttpContext context, long id) =>
            Listed(context, shop, shop.ArchiveOf(context).Members.Withdraw(id).Refusal)).For(MemberRole.Keep);
        routes.MapPost($"{Member}/device", (HttpContext context, long id) =>
            Invited(context, shop, new() { MemberId = id, Life = TimeSpan.FromDays(InvitationToMake.UsualDays) })).For(MemberRole.Keep);
        routes.MapPost($"{Member}/role", async (HttpContext context, long id) =>
        {
            TypedFields typed = await TypedFields.Of(context);
            MemberRole role = RoleIn(typed);
            Refusal? fault = typed.Fault ?? shop.ArchiveOf(context).Members.ChangeRole(id, role).Refusal;
            return Listed(context, shop, fault);
        }).For(MemberRole.Keep);
        routes.MapPost($"{Member}/away", (HttpContext context, long id) =>
            Listed(context, shop, shop.ArchiveOf(context).Members.SendAway(id).Refusal)).For(MemberRole.Keep);
        routes.MapPost(TodayPage.BackedUpPath, (HttpContext context) =>
        {
            Refusal? fault = shop.ArchiveOf(context).Members.NoteBackup().Refusal;
            return Changed(shop, fault, () => TodayPage.List(context, shop));
        }).For(MemberRole.Keep);
    }

    private static Member MemberOf(HttpContext context) => DoorKeeper.GuestOf(context).Member!;

    private static async Task<IResult> Invite(HttpContext context, Workshop shop)
    {
        TypedFields typed = await TypedFields.Of(context);
        InvitationToMake wanted = new()
        {
            Role = RoleIn(typed), Times = (int)(typed.Number("times") ?? 1),
            Life = TimeSpan.FromDays(typed.Number("days") ?? InvitationToMake.UsualDays),
        };
        return typed.Fault is { } fault ? Answer.Refused(fault) : Invited(context, shop, wanted);
    }

    private static MemberRole RoleIn(TypedFields typed)
    {
        string? word = typed.Word("role", [.. Enum.GetValues<MemberRole>().Select(EnumName.Of)]);
        return Enum.GetValues<MemberRole>().FirstOrDefault(role => EnumName.Of(role) == word, MemberRole.Look);
    }

    private static IResult Invited(HttpContext context, Workshop shop, InvitationToMake wanted)
    {
        Outcome<NewInvitation> made = shop.ArchiveOf(context).Members.Invite(wanted);
        if (made.IsRefused) return Answer.Refused(made.Refusal!);
        shop.Bell.Ring(Topic.Guests);
        return Answer.Part(MembersPage.Invited(shop.Page!, made.Value));
    }

    private static IResult Listed(HttpContext context, Workshop shop, Refusal? fault) =>
        Changed(shop, fault, () => MembersPage.List(context, shop));

    private static IResult Changed(Workshop shop, Refusal? fault, Func<XElement> part)
    {
        if (fault is not null) return Answer.Refused(fault);
        shop.Members.Forget();
        shop.Bell.Ring(Topic.Guests);
        return Answer.Part(part());
    }
}
