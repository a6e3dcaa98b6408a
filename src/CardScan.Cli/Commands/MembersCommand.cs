using System.CommandLine;
using System.Text.Json.Nodes;
using CardScan.Language;
using CardScan.Model;
using CardScan.Web;
using CardScan.Workflow;

namespace CardScan.Cli;

/// <summary><c>cardscan members</c>: who may use an archive by its page.</summary>
internal static class MembersCommand
{
    private static readonly string[] Columns = ["name", "role", "since"];

    private static readonly Dictionary<string, MemberRole> Roles =
        Enum.GetValues<MemberRole>().ToDictionary(role => EnumName.Of(role), StringComparer.Ordinal);

    public static Command Create(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json();
        ExplainedCommand command = new("members", "cardscan members", "cardscan members invite --role keep")
        {
            json, Invite(terminal, surroundings), Role(terminal, surroundings), Remove(terminal, surroundings),
        };
        archive.AddTo(command);
        command.SetAction(parsed => List(terminal, archive.Place(parsed).Members.All(), parsed.GetValue(json)));
        return command;
    }

    private static ExplainedCommand Invite(Terminal terminal, HostEnvironment surroundings)
    {
        ArchiveInput archive = new(surroundings);
        PageInput page = new(surroundings);
        Option<string> role = new("--role") { Description = Voice.Say("option.role"), HelpName = string.Join('|', Roles.Keys) };
        role.AcceptOnlyFromAmong([.. Roles.Keys]);
        Option<double?> times = NumberOption.Create("--times"), days = NumberOption.Create("--days");
        Option<string> device = new("--device-of")
        {
            Description = Voice.Say("option.device-of"), HelpName = OptionText.Placeholder("name"),
        };
        Option<bool> json = OptionText.Json("invitation");
        ExplainedCommand command = new(
            "members-invite", "cardscan members invite --role keep --page https://cards.example.org",
            "cardscan members invite --times 30 --days 1")
        {
            page.Address, role, times, days, device, json,
        };
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            Outcome<WorkshopPage?> at = page.From(parsed);
            if (at.IsRefused) return terminal.Refuse(at.Refusal!);
            if (at.Value is not { } address) return terminal.Refuse(Refusal.OfInput(Codes.PageUnknown));
            // Whoever invites is written down, also in an archive on one computer.
            ArchivePlace place = archive.Place(parsed) with { By = new(surroundings.Person) };
            InvitationToMake wanted = new()
            {
                Role = Roles[parsed.GetValue(role) ?? EnumName.Of(MemberRole.Add)],
                Times = (int)(parsed.GetValue(times) ?? 1),
                Life = TimeSpan.FromDays(parsed.GetValue(days) ?? InvitationToMake.UsualDays),
            };
            if (parsed.GetValue(device) is not { } name) return Show(place.Members.Invite(wanted));
            Outcome<Member> member = place.Members.Named(name);
            return member.IsRefused
                ? terminal.Refuse(member.Refusal!)
                : Show(place.Members.Invite(wanted with { MemberId = member.Value.Id }));

            int Show(Outcome<NewInvitation> made)
            {
                if (made.IsRefused) return terminal.Refuse(made.Refusal!);
                string link = address.LinkOf(made.Value.Code);
                if (parsed.GetValue(json)) terminal.ShowRaw(JsonText.Of(Json(made.Value.Invitation, link)));
                else ShowLink(terminal, made.Value.Invitation, link);
                return ExitCode.Done;
            }
        });
        return command;
    }

    private static ExplainedCommand Role(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        Argument<string> role = new("role") { Description = Voice.Say("option.role"), HelpName = string.Join('|', Roles.Keys) };
        role.AcceptOnlyFromAmong([.. Roles.Keys]);
        ExplainedCommand command = new("members-role", "cardscan members role \"Ana M\" keep") { name, role };
        return Changing(terminal, surroundings, command, "terminal.member-role", (archive, parsed, member) =>
            archive.Members.ChangeRole(member.Id, Roles[parsed.GetValue(role)!]), name);
    }

    private static ExplainedCommand Remove(Terminal terminal, HostEnvironment surroundings)
    {
        Argument<string> name = Name();
        ExplainedCommand command = new("members-remove", "cardscan members remove \"Ana M\"") { name };
        return Changing(terminal, surroundings, command, "terminal.member-removed", (archive, _, member) =>
            archive.Members.SendAway(member.Id), name);
    }

    private static ExplainedCommand Changing(Terminal terminal, HostEnvironment surroundings, ExplainedCommand command, string said,
        Func<ArchivePlace, ParseResult, Member, Outcome<Member>> change, Argument<string> name)
    {
        ArchiveInput archive = new(surroundings);
        Option<bool> json = OptionText.Json("member");
        command.Options.Add(json);
        archive.AddTo(command);
        command.SetAction(parsed =>
        {
            ArchivePlace place = archive.Place(parsed) with { By = new(surroundings.Person) };
            Outcome<Member> member = place.Members.Named(parsed.GetValue(name)!);
            Outcome<Member> changed = member.IsRefused ? member : change(place, parsed, member.Value);
            return terminal.Tell(changed, parsed.GetValue(json),
                done => Voice.Say(said, ("name", done.Name), ("role", EnumName.Of(done.Role))), Json);
        });
        return command;
    }

    private static Argument<string> Name() => new("name")
    {
        Description = Voice.Say("option.member"), HelpName = OptionText.Placeholder("name"),
    };

    private static void ShowLink(Terminal terminal, Invitation invitation, string link)
    {
        terminal.ShowText(link);
        if (terminal.IsOutputTerminal) ServeCommand.ShowCode(terminal, link);
        terminal.Note(Voice.Say("terminal.invited", Figures.Known(
            ("role", EnumName.Of(invitation.Role)), ("times", invitation.TimesLeft),
            ("until", ArchiveMessages.Time(invitation.Until)), ("name", Figures.Text(invitation.Member?.Name)))));
    }

    private static int List(Terminal terminal, Outcome<ValueList<Member>> members, bool isJson)
    {
        if (members.IsRefused) return terminal.Refuse(members.Refusal!);
        if (isJson) terminal.ShowRaw(JsonText.Of(members.Value.Select(Json)));
        else if (members.Value.Count > 0)
            TablePrinter.Print(terminal, Columns, [.. members.Value.Select(member =>
                new[] { member.Name, EnumName.Of(member.Role), ArchiveMessages.Time(member.Joined) })]);
        terminal.Note(Voice.Say("terminal.members", ("count", members.Value.Count)));
        return ExitCode.Done;
    }

    private static JsonObject Json(Member member) => new()
    {
        ["member"] = member.Name, ["role"] = EnumName.Of(member.Role), ["joinedUtc"] = ArchiveJson.Time(member.Joined),
    };

    private static JsonObject Json(Invitation invitation, string link) => JsonText.Without(new()
    {
        ["link"] = link,
        ["role"] = invitation.Member is null ? EnumName.Of(invitation.Role) : null,
        ["member"] = invitation.Member?.Name,
        ["times"] = invitation.TimesLeft,
        ["untilUtc"] = ArchiveJson.Time(invitation.Until),
    });
}
