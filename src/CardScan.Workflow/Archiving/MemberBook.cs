using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Who may use an archive by its page, and who did what to it.</summary>
/// <param name="archive">The archive.</param>
public sealed class MemberBook(ArchivePlace archive)
{
    /// <summary>Without a note of a backup for longer, those who keep the archive are reminded.</summary>
    public static readonly TimeSpan LongestWithoutBackup = TimeSpan.FromDays(14);

    /// <summary>Everybody who is a member, in the order of joining.</summary>
    public Outcome<ValueList<Member>> All() => archive.Use(opened => opened.Members());

    /// <summary>A member by their name, however it is written; or why there is none.</summary>
    /// <param name="name">The name.</param>
    public Outcome<Member> Named(string name) => archive.Use(opened => opened.Member(name));

    /// <summary>The member whose browser shows a key; null where nobody's does.</summary>
    /// <param name="key">What the browser shows.</param>
    public Outcome<Member?> OfKey(string key) => archive.Use(opened => opened.MemberOf(key));

    /// <summary>Invitations that still let somebody in, the newest first.</summary>
    public Outcome<ValueList<Invitation>> Invitations() => archive.Use(opened => opened.Invitations());

    /// <summary>The invitation with a code; null where none has it, or it is good no more.</summary>
    /// <param name="code">The code.</param>
    public Outcome<Invitation?> Invited(string code) => archive.Use(opened => opened.Invited(code));

    /// <summary>Makes an invitation, and the archive where there is none.</summary>
    /// <param name="what">Whom it is for.</param>
    public Outcome<NewInvitation> Invite(InvitationToMake what) => archive.Use(opened => opened.Invite(what), mayMake: true);

    /// <summary>Takes an invitation back; or why there is none.</summary>
    /// <param name="id">Its id.</param>
    public Outcome<Invitation> Withdraw(long id)
    {
        Outcome<Invitation?> withdrawn = archive.Use(opened => opened.Withdraw(id));
        if (withdrawn.IsRefused) return withdrawn.Refusal!;
        return withdrawn.Value is { } gone ? gone : Refusal.OfInput(Codes.InvitationUnknown);
    }

    /// <summary>Lets somebody in by an invitation.</summary>
    /// <param name="code">The invitation's.</param>
    /// <param name="name">What a new member calls themselves.</param>
    /// <param name="device">What their browser says it runs on.</param>
    public Outcome<JoinedMember> Join(string code, string name, string device) => archive.Use(opened => opened.Join(code, name, device));

    /// <summary>The browsers in which a member is known, the one seen last first.</summary>
    /// <param name="member">The member.</param>
    public Outcome<ValueList<MemberDevice>> DevicesOf(Member member) => archive.Use(opened => opened.DevicesOf(member.Id));

    /// <summary>A browser of a member is let in no more.</summary>
    /// <param name="member">The member.</param>
    /// <param name="deviceId">The browser; nothing happens where it is not theirs.</param>
    public Outcome<ValueList<MemberDevice>> SignOut(Member member, long deviceId) =>
        archive.Use(opened => opened.SignOut(member.Id, deviceId));

    /// <summary>Gives a member another role. Nobody changes their own.</summary>
    /// <param name="memberId">The member.</param>
    /// <param name="role">The role.</param>
    public Outcome<Member> ChangeRole(long memberId, MemberRole role) => archive.Use(opened => opened.ChangeRole(memberId, role));

    /// <summary>Sends a member away; nobody sends themselves away. What they made stays, under their name.</summary>
    /// <param name="memberId">The member.</param>
    public Outcome<Member> SendAway(long memberId) => archive.Use(opened => opened.SendAway(memberId));

    /// <summary>What was done, the newest first.</summary>
    /// <param name="cardId">Only what was done to a card; null for everything.</param>
    /// <param name="most">How much is given at most.</param>
    public Outcome<ValueList<Deed>> Deeds(long? cardId, int most) => archive.Use(opened => opened.Deeds(cardId, most));

    /// <summary>What was done to something, by its name; the newest first.</summary>
    /// <param name="name">The name of a card or a reading; null for everything.</param>
    /// <param name="most">How much is given at most.</param>
    public Outcome<ValueList<Deed>> DeedsOn(string? name, int most)
    {
        if (name is null) return Deeds(null, most);
        Outcome<ArchiveView> view = archive.Show(name);
        if (view.IsRefused) return view.Refusal!;
        long? card = view.Value.Reading?.Entry.CardId ?? (view.Value.Cards is [var only] ? only.Card.Id : null);
        return card is null ? Refusal.OfInput(Codes.ArchiveNoCard, ("name", name)) : Deeds(card, most);
    }

    /// <summary>True where a member kept a card themselves.</summary>
    /// <param name="member">The member.</param>
    /// <param name="cardId">The card.</param>
    public bool Kept(Member member, long cardId) =>
        archive.Use(opened => opened.MemberWhoKept(cardId)) is { IsRefused: false, Value: { } id } && id == member.Id;

    /// <summary>Writes down what was done beside the archive.</summary>
    /// <param name="what">What was done.</param>
    /// <param name="subject">To what.</param>
    public Outcome<string> Note(DeedKind what, string subject) => archive.Use(opened => opened.Note(what, subject));

    /// <summary>Notes that the archive was backed up just now.</summary>
    public Outcome<Deed> NoteBackup() => archive.Use(opened => opened.NoteBackup());

    /// <summary>Whether it is time to back the archive up, and when that was noted last.</summary>
    /// <returns>Whether no backup was noted for too long, and the last that was; null where none was.</returns>
    public (bool IsDue, Deed? Last) Backup()
    {
        Outcome<Deed?> last = archive.Use(opened => opened.LastBackup());
        if (last.IsRefused) return (false, null);
        return (last.Value is not { } noted || archive.Clock.GetUtcNow() - noted.Done > LongestWithoutBackup, last.Value);
    }
}
