using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>People who use the archive by its page, and who did what.</content>
public sealed partial class CardArchive
{
    private MemberKeeper MemberKeeper => new(_database, _clock);

    private DeedBook DeedBook => new(_database, _clock, _by);

    /// <summary>Everybody who is a member, in the order of joining.</summary>
    public Outcome<ValueList<Member>> Members() => Guard<ValueList<Member>>(() => MemberKeeper.All());

    /// <summary>A member by their name, however it is written; or why there is none.</summary>
    /// <param name="name">The name.</param>
    public Outcome<Member> Member(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Guard<Member>(() => MemberKeeper.Named(name) is { } member ? member : Refusal.OfInput(Codes.MemberUnknown, ("name", name)));
    }

    /// <summary>The member whose browser shows a key; null where nobody's does.</summary>
    /// <param name="key">What the browser shows.</param>
    public Outcome<Member?> MemberOf(string key)
    {
        ArgumentNullException.ThrowIfNull(key);
        return Guard<Member?>(() =>
        {
            if (MemberKeeper.Known(key) is not { } known) return (Member?)null;
            // A disk that is full keeps nobody out.
            if (!known.IsNoted && _database.Unchangeable is null) NoteSeen(key);
            return known.Member;
        });
    }

    /// <summary>Invitations that still let somebody in, the newest first.</summary>
    public Outcome<ValueList<Invitation>> Invitations() => Guard<ValueList<Invitation>>(() => MemberKeeper.Invitations());

    /// <summary>The invitation with a code; null where none has it, or it is good no more.</summary>
    /// <param name="code">The code.</param>
    public Outcome<Invitation?> Invited(string code)
    {
        ArgumentNullException.ThrowIfNull(code);
        return Guard<Invitation?>(() => MemberKeeper.Invited(code));
    }

    /// <summary>Makes an invitation.</summary>
    /// <param name="what">Whom it is for.</param>
    /// <exception cref="ArgumentOutOfRangeException">It would be for nobody, for too many, or good for too long.</exception>
    public Outcome<NewInvitation> Invite(InvitationToMake what)
    {
        ArgumentNullException.ThrowIfNull(what);
        ArgumentOutOfRangeException.ThrowIfLessThan(what.Times, 1, nameof(what));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(what.Times, InvitationToMake.MostTimes, nameof(what));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(what.Life, TimeSpan.FromDays(InvitationToMake.MostDays), nameof(what));
        return Changed(() => _database.Write<NewInvitation>(() =>
        {
            NewInvitation made = MemberKeeper.Invite(what, _by?.Name ?? "");
            // That somebody lets their own phone in is nobody else's business.
            if (what.MemberId is null) DeedBook.Write(DeedKind.Invited, EnumName.Of(what.Role));
            return made;
        }));
    }

    /// <summary>Takes an invitation back: nobody is let in by it any more.</summary>
    /// <param name="id">Its id.</param>
    public Outcome<Invitation?> Withdraw(long id) => Changed(() => _database.Write<Invitation?>(() =>
    {
        Invitation? withdrawn = MemberKeeper.Withdraw(id);
        if (withdrawn is not null) DeedBook.Write(DeedKind.InvitationWithdrawn, EnumName.Of(withdrawn.Role));
        return withdrawn;
    }));

    /// <summary>Lets somebody in by an invitation: a new member, or a member's other device.</summary>
    /// <param name="code">The invitation's.</param>
    /// <param name="name">What a new member calls themselves.</param>
    /// <param name="device">What their browser says it runs on.</param>
    public Outcome<JoinedMember> Join(string code, string name, string device)
    {
        ArgumentNullException.ThrowIfNull(code);
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(device);
        return Changed(() => _database.Write(() =>
        {
            bool isNew = MemberKeeper.Invited(code) is { Member: null };
            Outcome<JoinedMember> joined = MemberKeeper.Join(code, name, device);
            if (!joined.IsRefused && isNew)
                new DeedBook(_database, _clock, joined.Value.Member.AsActor).Write(DeedKind.Joined, EnumName.Of(joined.Value.Member.Role));
            return joined;
        }));
    }

    /// <summary>The browsers in which a member is known, the one seen last first.</summary>
    /// <param name="memberId">The member.</param>
    public Outcome<ValueList<MemberDevice>> DevicesOf(long memberId) =>
        Guard<ValueList<MemberDevice>>(() => MemberKeeper.Devices(memberId));

    /// <summary>A browser of a member is let in no more.</summary>
    /// <param name="memberId">The member.</param>
    /// <param name="deviceId">The browser; nothing happens where it is not theirs.</param>
    public Outcome<ValueList<MemberDevice>> SignOut(long memberId, long deviceId) =>
        Changed(() => _database.Write<ValueList<MemberDevice>>(() =>
        {
            MemberKeeper.SignOut(memberId, deviceId);
            return MemberKeeper.Devices(memberId);
        }));

    /// <summary>Gives a member another role. Nobody changes their own.</summary>
    /// <param name="memberId">The member.</param>
    /// <param name="role">The role.</param>
    public Outcome<Member> ChangeRole(long memberId, MemberRole role) => Change(memberId, member =>
    {
        Member changed = MemberKeeper.Change(member, role);
        DeedBook.Write(DeedKind.RoleChanged, $"{member.Name}: {EnumName.Of(role)}");
        return changed;
    });

    /// <summary>Sends a member away; nobody sends themselves away. What they made stays, under their name.</summary>
    /// <param name="memberId">The member.</param>
    public Outcome<Member> SendAway(long memberId) => Change(memberId, member =>
    {
        MemberKeeper.SendAway(member.Id);
        DeedBook.Write(DeedKind.MemberLeft, member.Name);
        return member;
    });

    /// <summary>What was done, the newest first. Nothing is written where an archive is somebody's own.</summary>
    /// <param name="cardId">Only what was done to a card; null for everything.</param>
    /// <param name="most">How much is given at most.</param>
    public Outcome<ValueList<Deed>> Deeds(long? cardId, int most) => Guard<ValueList<Deed>>(() => DeedBook.Newest(cardId, most));

    /// <summary>The member who kept a card; null where it was somebody else, or nobody knows.</summary>
    /// <param name="cardId">The card.</param>
    public Outcome<long?> MemberWhoKept(long cardId) => Guard<long?>(() => DeedBook.MemberWhoKept(cardId));

    /// <summary>Writes down what was done beside the archive.</summary>
    /// <param name="what">What was done.</param>
    /// <param name="subject">To what.</param>
    public Outcome<string> Note(DeedKind what, string subject)
    {
        ArgumentNullException.ThrowIfNull(subject);
        return Changed(() => _database.Write<string>(() =>
        {
            DeedBook.Write(what, subject);
            return subject;
        }));
    }

    /// <summary>Notes that the archive was backed up just now.</summary>
    public Outcome<Deed> NoteBackup() => Changed(() => _database.Write<Deed>(() =>
    {
        new DeedBook(_database, _clock, _by ?? new("")).Write(DeedKind.BackedUp);
        return DeedBook.Last(DeedKind.BackedUp)!;
    }));

    /// <summary>When the archive was backed up last, as far as anybody noted it; null where nobody did.</summary>
    public Outcome<Deed?> LastBackup() => Guard<Deed?>(() => DeedBook.Last(DeedKind.BackedUp));

    private Outcome<Member> Change(long memberId, Func<Member, Member> change) => Changed(() => _database.Write<Member>(() =>
    {
        if (MemberKeeper.Find(memberId) is not { } member) return Refusal.OfInput(Codes.MemberUnknown, ("name", $"{memberId}"));
        return member.Id == _by?.MemberId ? Refusal.OfInput(Codes.MemberThemselves) : change(member);
    }));

    private void NoteSeen(string key) => _database.Write<bool>(() =>
    {
        MemberKeeper.NoteSeen(key);
        return true;
    });
}
