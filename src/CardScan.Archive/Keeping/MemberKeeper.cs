using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Who may use an archive by its page: members, the browsers in which they are known, and invitations. What it changes, it changes
/// inside a transaction of its caller.
/// </summary>
/// <remarks>
/// Codes and keys have 128 random bits. Only their fingerprints are kept: whoever reads the database or a backup of it is not let in
/// by what stands there.
/// </remarks>
internal sealed class MemberKeeper(Database database, TimeProvider clock)
{
    /// <summary>Browsers in which one member is known; the one that was seen longest ago goes first.</summary>
    private const int MostDevices = 12;

    /// <summary>A browser that did not show itself for longer is let in no more.</summary>
    private const int MostDaysUnseen = 180;

    private const string Day = "yyyy-MM-dd";

    private DateTimeOffset Now => clock.GetUtcNow();

    private string Today => DayText(Now);

    /// <summary>Everybody who is a member, in the order of joining.</summary>
    public ValueList<Member> All() => database.Query(
        "SELECT id, name, role, joined_utc FROM member WHERE left_utc IS NULL ORDER BY id", MemberOf).ToValueList();

    /// <summary>A member; null where nobody of that id is one any more.</summary>
    public Member? Find(long id) => database.Query(
        "SELECT id, name, role, joined_utc FROM member WHERE id = @id AND left_utc IS NULL", MemberOf, ("id", id)).SingleOrDefault();

    /// <summary>A member by their name, however it is written; null where nobody is called so.</summary>
    public Member? Named(string name) => database.Query(
        "SELECT id, name, role, joined_utc FROM member WHERE called = @called AND left_utc IS NULL", MemberOf,
        ("called", Called(name))).SingleOrDefault();

    /// <summary>Invitations that still let somebody in, the newest first.</summary>
    public ValueList<Invitation> Invitations() => Invited("times_left > 0 AND until_utc > @now", ("now", Database.Text(Now)));

    /// <summary>The invitation with a code; null where none has it, or it is good no more.</summary>
    public Invitation? Invited(string code) => Invited(
        "code_sha256 = @sha256 AND times_left > 0 AND until_utc > @now",
        ("sha256", FingerprintOf(code)), ("now", Database.Text(Now))).SingleOrDefault();

    /// <summary>Makes an invitation.</summary>
    public NewInvitation Invite(InvitationToMake what, string by)
    {
        database.Execute("DELETE FROM invitation WHERE until_utc <= @now OR times_left <= 0", ("now", Database.Text(Now)));
        string code = Secret.New();
        database.Execute(
            """
            INSERT INTO invitation (code_sha256, role, member_id, times_left, until_utc, made_by)
            VALUES (@sha256, @role, @member, @times, @until, @by)
            """,
            ("sha256", FingerprintOf(code)), ("role", EnumName.Of(what.Role)), ("member", what.MemberId),
            ("times", (long)what.Times), ("until", Database.Text(Now + what.Life)), ("by", by));
        return new(Invited(code)!, code);
    }

    /// <summary>Takes an invitation back; null where there is none of that id.</summary>
    public Invitation? Withdraw(long id)
    {
        Invitation? invitation = Invitations().FirstOrDefault(each => each.Id == id);
        database.Execute("DELETE FROM invitation WHERE id = @id", ("id", id));
        return invitation;
    }

    /// <summary>Lets somebody in by an invitation: a new member, or a member's other device.</summary>
    /// <param name="code">The invitation's.</param>
    /// <param name="name">What a new member calls themselves.</param>
    /// <param name="device">What their browser says it runs on.</param>
    public Outcome<JoinedMember> Join(string code, string name, string device)
    {
        if (Invited(code) is not { } invitation) return Refusal.OfInput(Codes.InvitationOver);
        Outcome<Member> member = invitation.Member is { } known ? known : Add(name, invitation.Role);
        if (member.IsRefused) return member.Refusal!;
        database.Execute("UPDATE invitation SET times_left = times_left - 1 WHERE id = @id", ("id", invitation.Id));
        string key = Secret.New();
        database.Execute(
            """
            INSERT INTO member_device (member_id, key_sha256, device, since_utc, seen_on) VALUES (@member, @sha256, @device, @now, @today)
            """,
            ("member", member.Value.Id), ("sha256", FingerprintOf(key)), ("device", device),
            ("now", Database.Text(Now)), ("today", Today));
        foreach (MemberDevice old in Devices(member.Value.Id).Skip(MostDevices)) SignOut(member.Value.Id, old.Id);
        return new JoinedMember(member.Value, key);
    }

    /// <summary>The member whose browser shows a key, and whether that was noted today; null where nobody's does.</summary>
    public (Member Member, bool IsNoted)? Known(string key) => database.Query(
        """
        SELECT member.id, name, role, joined_utc, seen_on FROM member_device JOIN member ON member.id = member_id
        WHERE key_sha256 = @sha256 AND left_utc IS NULL AND seen_on >= @oldest
        """,
        row => (MemberOf(row), row.Text("seen_on") == Today),
        ("sha256", FingerprintOf(key)), ("oldest", DayText(Now.AddDays(-MostDaysUnseen)))) is [var known] ? known : null;

    /// <summary>Notes that a browser was seen today.</summary>
    public void NoteSeen(string key) => database.Execute(
        "UPDATE member_device SET seen_on = @today WHERE key_sha256 = @sha256", ("today", Today), ("sha256", FingerprintOf(key)));

    /// <summary>The browsers in which a member is known, the one that came last first.</summary>
    public ValueList<MemberDevice> Devices(long memberId) => database.Query(
        "SELECT id, device, since_utc, seen_on FROM member_device WHERE member_id = @id ORDER BY seen_on DESC, id DESC",
        row => new MemberDevice(row.Long("id"), row.Text("device"), Database.Time(row.Text("since_utc")), DayOf(row.Text("seen_on"))),
        ("id", memberId)).ToValueList();

    /// <summary>A browser of a member is let in no more.</summary>
    public void SignOut(long memberId, long deviceId) => database.Execute(
        "DELETE FROM member_device WHERE id = @device AND member_id = @member", ("device", deviceId), ("member", memberId));

    /// <summary>Gives a member another role.</summary>
    public Member Change(Member member, MemberRole role)
    {
        database.Execute("UPDATE member SET role = @role WHERE id = @id", ("role", EnumName.Of(role)), ("id", member.Id));
        return member with { Role = role };
    }

    /// <summary>Sends a member away. What they made stays, under their name.</summary>
    public void SendAway(long id)
    {
        database.Execute("DELETE FROM member_device WHERE member_id = @id", ("id", id));
        database.Execute("DELETE FROM invitation WHERE member_id = @id", ("id", id));
        database.Execute("UPDATE member SET left_utc = @now WHERE id = @id", ("now", Database.Text(Now)), ("id", id));
    }

    private Outcome<Member> Add(string name, MemberRole role)
    {
        string own = name.Trim();
        if (own.Length is 0 or > Member.MostNameLetters || own.Any(IsUnseen) || !own.Any(char.IsLetterOrDigit))
            return Refusal.OfInput(Codes.MemberName, ("most", Member.MostNameLetters));
        if (Named(own) is not null) return Refusal.OfInput(Codes.MemberNameTaken, ("name", own));
        long id = database.Count(
            """
            INSERT INTO member (name, called, role, joined_utc) VALUES (@name, @called, @role, @now) RETURNING id
            """,
            ("name", own), ("called", Called(own)), ("role", EnumName.Of(role)), ("now", Database.Text(Now)));
        return Find(id)!;
    }

    private ValueList<Invitation> Invited(string condition, params ReadOnlySpan<(string Name, object? Value)> values) => database.Query(
        $"SELECT id, role, member_id, times_left, until_utc, made_by FROM invitation WHERE {condition} ORDER BY id DESC",
        row => (Id: row.Long("id"), Role: StoredValue.Value<MemberRole>(row.Text("role")), MemberId: row.LongOrNull("member_id"),
            Left: row.Int("times_left"), Until: Database.Time(row.Text("until_utc")), By: row.Text("made_by")), values)
        .Select(row => new Invitation(row.Id, row.Role, row.MemberId is { } id ? Find(id) : null, row.Left, row.Until, row.By))
        .ToValueList();

    private static Member MemberOf(StoredRow row) => new(
        row.Long("id"), row.Text("name"), StoredValue.Value<MemberRole>(row.Text("role")), Database.Time(row.Text("joined_utc")));

    /// <summary>Signs that nobody sees would make two names look like one.</summary>
    private static bool IsUnseen(char sign) =>
        char.IsControl(sign) || char.GetUnicodeCategory(sign) is UnicodeCategory.Format or UnicodeCategory.LineSeparator
            or UnicodeCategory.ParagraphSeparator or UnicodeCategory.PrivateUse or UnicodeCategory.OtherNotAssigned;

    private static string Called(string name) =>
        string.Join(' ', name.ToLowerInvariant().Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

    private static string DayText(DateTimeOffset time) => time.UtcDateTime.ToString(Day, CultureInfo.InvariantCulture);

    private static DateOnly DayOf(string text) =>
        DateOnly.TryParseExact(text, Day, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day)
            ? day
            : throw new InvalidDataException($"\"{text}\" is no stored day");

    private static string FingerprintOf(string secret) => Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(secret)));
}
