using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive.Tests;

/// <summary>Who may use an archive by its page, and who did what.</summary>
public sealed class MemberTests : IDisposable
{
    private static readonly InvitationToMake Week = new() { Life = TimeSpan.FromDays(7) };

    private readonly Scratch _scratch = new();
    private readonly CardArchive _archive;

    public MemberTests() => _archive = _scratch.Open();

    public void Dispose()
    {
        _archive.Dispose();
        _scratch.Dispose();
    }

    [Fact]
    public void Somebody_joins_by_an_invitation_and_is_known_from_then_on()
    {
        string code = Invite(Week with { Role = MemberRole.Look });
        Assert.Equal(MemberRole.Look, _archive.Invited(code).Value!.Role);
        JoinedMember ana = _archive.Join(code, " Ana M ", "android").Value;
        Assert.Equal(("Ana M", MemberRole.Look, _scratch.Clock.Now), (ana.Member.Name, ana.Member.Role, ana.Member.Joined));
        Assert.Equal(ana.Member, _archive.MemberOf(ana.Key).Value);
        Assert.Equal([ana.Member], _archive.Members().Value);
        Assert.Equal(ana.Member, _archive.Member("ana  m").Value);
        Assert.Equal("android", Assert.Single(_archive.DevicesOf(ana.Member.Id).Value).Device);
        Assert.Null(_archive.MemberOf(code).Value);
        Assert.Null(_archive.MemberOf("").Value);
    }

    [Fact]
    public void An_invitation_lets_in_as_many_as_it_says()
    {
        string code = Invite(Week with { Times = 2 });
        Join(code, "Ana");
        Assert.Equal(1, Assert.Single(_archive.Invitations().Value).TimesLeft);
        Join(code, "Ben");
        Assert.Empty(_archive.Invitations().Value);
        Assert.Equal(Codes.InvitationOver, _archive.Join(code, "Cleo", "mac").Refusal!.Code);
        Assert.Equal(2, _archive.Members().Value.Count);
    }

    [Theory]
    [InlineData("")]
    [InlineData("   ")]
    [InlineData("…")]
    [InlineData("Ana\u202EM")] // turns the reading direction
    [InlineData("Ana\u200B")] // has no width
    [InlineData("Ana\nM")]
    [InlineData("Abcdefghijklmnopqrstuvwxyzabcdefghijklmnopqrstuvwxyzabcdefghi")]
    public void A_name_that_nobody_could_tell_uses_nothing_up(string name)
    {
        string code = Invite(Week);
        Assert.Equal(Codes.MemberName, _archive.Join(code, name, "mac").Refusal!.Code);
        Assert.Equal(1, _archive.Invited(code).Value!.TimesLeft);
        Assert.Empty(_archive.Members().Value);
    }

    [Fact]
    public void Two_members_are_not_called_the_same()
    {
        Join(Invite(Week), "Ana M");
        string code = Invite(Week);
        Assert.Equal(Codes.MemberNameTaken, _archive.Join(code, "ANA  m", "mac").Refusal!.Code);
        Assert.NotNull(_archive.Invited(code).Value);
    }

    [Fact]
    public void Whoever_left_is_let_in_no_more_and_their_name_is_free()
    {
        JoinedMember ana = Join(Invite(Week), "Ana");
        string device = Invite(Week with { MemberId = ana.Member.Id });
        Assert.Equal(ana.Member, _archive.SendAway(ana.Member.Id).Value);
        Assert.Null(_archive.MemberOf(ana.Key).Value);
        Assert.Null(_archive.Invited(device).Value);
        Assert.Empty(_archive.Members().Value);
        Assert.Equal(Codes.MemberUnknown, _archive.SendAway(ana.Member.Id).Refusal!.Code);
        Assert.NotEqual(ana.Member.Id, Join(Invite(Week), "Ana").Member.Id);
    }

    [Fact]
    public void An_invitation_ends_with_its_time_or_when_it_is_withdrawn()
    {
        string old = Invite(Week), withdrawn = Invite(Week with { Life = TimeSpan.FromDays(30) });
        _scratch.Clock.Now += TimeSpan.FromDays(7);
        Assert.Equal(Codes.InvitationOver, _archive.Join(old, "Ana", "mac").Refusal!.Code);
        Assert.NotNull(_archive.Withdraw(Assert.Single(_archive.Invitations().Value).Id).Value);
        Assert.Null(_archive.Invited(withdrawn).Value);
        Assert.Null(_archive.Withdraw(999).Value);
    }

    [Fact]
    public void A_member_comes_in_on_another_device_as_themselves()
    {
        JoinedMember ana = Join(Invite(Week), "Ana");
        string code = Invite(Week with { MemberId = ana.Member.Id, Role = MemberRole.Keep });
        JoinedMember again = _archive.Join(code, "Somebody else", "iphone").Value;
        Assert.Equal(ana.Member, again.Member);
        Assert.NotEqual(ana.Key, again.Key);
        Assert.Equal(2, _archive.DevicesOf(ana.Member.Id).Value.Count);
    }

    [Fact]
    public void A_device_is_signed_out_by_its_member_alone()
    {
        JoinedMember ana = Join(Invite(Week), "Ana"), ben = Join(Invite(Week), "Ben");
        long device = _archive.DevicesOf(ana.Member.Id).Value[0].Id;
        _archive.SignOut(ben.Member.Id, device);
        Assert.NotNull(_archive.MemberOf(ana.Key).Value);
        Assert.Empty(_archive.SignOut(ana.Member.Id, device).Value);
        Assert.Null(_archive.MemberOf(ana.Key).Value);
    }

    [Fact]
    public void A_browser_that_is_not_seen_for_half_a_year_is_forgotten()
    {
        JoinedMember ana = Join(Invite(Week), "Ana");
        _scratch.Clock.Now += TimeSpan.FromDays(170);
        Assert.NotNull(_archive.MemberOf(ana.Key).Value);
        Assert.Equal(DateOnly.FromDateTime(_scratch.Clock.Now.UtcDateTime), _archive.DevicesOf(ana.Member.Id).Value[0].SeenOn);
        _scratch.Clock.Now += TimeSpan.FromDays(170);
        Assert.NotNull(_archive.MemberOf(ana.Key).Value);
        _scratch.Clock.Now += TimeSpan.FromDays(181);
        Assert.Null(_archive.MemberOf(ana.Key).Value);
    }

    [Fact]
    public void Of_many_devices_of_one_member_the_one_seen_longest_ago_goes()
    {
        JoinedMember ana = Join(Invite(Week), "Ana");
        JoinedMember[] others = [.. Enumerable.Range(0, 12).Select(_ =>
        {
            _scratch.Clock.Now += TimeSpan.FromDays(1);
            return Join(Invite(Week with { MemberId = ana.Member.Id }), "");
        })];
        Assert.Equal(12, _archive.DevicesOf(ana.Member.Id).Value.Count);
        Assert.Null(_archive.MemberOf(ana.Key).Value);
        Assert.All(others, other => Assert.NotNull(_archive.MemberOf(other.Key).Value));
    }

    [Fact]
    public void Nobody_changes_their_own_role_or_sends_themselves_away()
    {
        Member ana = Join(Invite(Week with { Role = MemberRole.Keep }), "Ana").Member, ben = Join(Invite(Week), "Ben").Member;
        using CardArchive hers = CardArchive.Open(_scratch.Address, _scratch.Clock, by: ana.AsActor).Value;
        Assert.Equal(Codes.MemberThemselves, hers.ChangeRole(ana.Id, MemberRole.Look).Refusal!.Code);
        Assert.Equal(Codes.MemberThemselves, hers.SendAway(ana.Id).Refusal!.Code);
        Assert.Equal(MemberRole.Keep, hers.ChangeRole(ben.Id, MemberRole.Keep).Value.Role);
        Assert.Equal([MemberRole.Keep, MemberRole.Keep], hers.Members().Value.Select(member => member.Role));
    }

    [Fact]
    public void Neither_codes_nor_keys_stand_in_the_database()
    {
        string code = Invite(Week with { Times = 2 });
        JoinedMember ana = Join(code, "Ana");
        using Database database = _scratch.OpenDatabase();
        foreach (string table in new[] { "invitation", "member_device", "member", "deed" })
        {
            string held = string.Join(' ', database.Query(
                $"SELECT * FROM {table}", row => string.Join(' ', row.All().Select(cell => cell.Value))));
            Assert.DoesNotContain(code, held, StringComparison.Ordinal);
            Assert.DoesNotContain(ana.Key, held, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void What_somebody_does_is_written_down_with_their_name()
    {
        Member ana = Join(Invite(Week), "Ana").Member;
        using CardArchive hers = CardArchive.Open(_scratch.Address, _scratch.Clock, by: ana.AsActor).Value;
        KeptCard card = hers.KeepCard(Kept.Json(Kept.Plan(7))).Value;
        hers.KeepCard(Kept.Json(Kept.Plan(7)));
        ArchiveSubject subject = hers.Resolve(card.Name).Value;
        hers.AddNote(subject, "lens cleaned");
        hers.Tag(subject, ["oak"]);
        hers.Tag(subject, ["oak"], isOff: true);
        hers.Close(card.Id);
        hers.Prune(new([subject], Superseded: false), isMeant: false);
        hers.Prune(new([subject], Superseded: false), isMeant: true);
        Assert.Equal(
            [DeedKind.CardKept, DeedKind.NoteAdded, DeedKind.TagAdded, DeedKind.TagRemoved, DeedKind.CardClosed],
            hers.Deeds(card.Id, 99).Value.Select(deed => deed.Kind).Reverse());
        Deed last = hers.Deeds(null, 1).Value.Single();
        Assert.Equal((DeedKind.Pruned, ana.AsActor, card.Name), (last.Kind, last.By, last.Subject));
        Assert.Equal(ana.Id, hers.MemberWhoKept(card.Id).Value);
        Assert.Null(hers.MemberWhoKept(999).Value);
        Assert.Null(hers.LastBackup().Value);
        Assert.Equal(hers.NoteBackup().Value, hers.LastBackup().Value);
    }

    [Fact]
    public void What_is_refused_is_not_written_down()
    {
        using CardArchive hers = CardArchive.Open(_scratch.Address, _scratch.Clock, by: new("Ana", 1)).Value;
        KeptCard card = hers.KeepCard(Kept.Json(Kept.Plan(7))).Value;
        Assert.True(hers.Tag(hers.Resolve(card.Name).Value, ["two words"]).IsRefused);
        Assert.True(hers.Rename(NamedKind.Material, "not there", "x").IsRefused);
        Assert.Single(hers.Deeds(null, 99).Value);
    }

    [Fact]
    public void Nothing_is_written_down_where_nobody_is_named()
    {
        KeptCard card = _archive.KeepCard(Kept.Json(Kept.Plan(7))).Value;
        _archive.Close(card.Id);
        Assert.Empty(_archive.Deeds(null, 99).Value);
    }

    [Fact]
    public void A_copy_knows_the_members_and_their_deeds()
    {
        JoinedMember ana = Join(Invite(Week), "Ana");
        string open = Invite(Week with { MemberId = ana.Member.Id });
        using CardArchive other = CardArchive.Open(_scratch.AddressOf("other"), _scratch.Clock).Value;
        Assert.False(_archive.CopyTo(other).IsRefused);
        Assert.Equal(ana.Member, other.MemberOf(ana.Key).Value);
        Assert.Equal(ana.Member, other.Invited(open).Value!.Member);
        Assert.Equal(_archive.Deeds(null, 99).Value, other.Deeds(null, 99).Value);
        Assert.NotEqual(ana.Member.Id, other.Join(other.Invite(Week).Value.Code, "Ben", "mac").Value.Member.Id);
    }

    private string Invite(InvitationToMake what) => _archive.Invite(what).Value.Code;

    private JoinedMember Join(string code, string name) => _archive.Join(code, name, "linux").Value;
}
