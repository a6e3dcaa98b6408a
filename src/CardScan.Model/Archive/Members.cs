namespace CardScan.Model;

/// <summary>What a member of a workshop may do. Each may do what those before it may.</summary>
public enum MemberRole
{
    /// <summary>See everything; change nothing but how the page looks to them.</summary>
    Look,

    /// <summary>Make cards, photograph them, write notes, and change what they made themselves.</summary>
    Add,

    /// <summary>Change and remove what anybody made, and say who is a member.</summary>
    Keep,
}

/// <summary>Somebody who uses a workshop's archive by its page.</summary>
/// <param name="Id">Tells members from each other; never given twice.</param>
/// <param name="Name">What they call themselves.</param>
/// <param name="Role">What they may do.</param>
/// <param name="Joined">Since when, UTC.</param>
public sealed record Member(long Id, string Name, MemberRole Role, DateTimeOffset Joined)
{
    /// <summary>No name is longer, letters.</summary>
    public const int MostNameLetters = 60;

    /// <summary>The member as whoever does something.</summary>
    public Actor AsActor => new(Name, Id);
}

/// <summary>A browser in which a member is known.</summary>
/// <param name="Id">Tells a member's browsers from each other.</param>
/// <param name="Device">What it says it runs on: "android", "windows" and so on.</param>
/// <param name="Since">When it was let in, UTC.</param>
/// <param name="SeenOn">The day on which it was seen last, UTC.</param>
public sealed record MemberDevice(long Id, string Device, DateTimeOffset Since, DateOnly SeenOn);

/// <summary>A member who was just let in.</summary>
/// <param name="Member">The member.</param>
/// <param name="Key">What their browser shows from now on; a secret, and kept nowhere else.</param>
public sealed record JoinedMember(Member Member, string Key);

/// <summary>Whom an invitation is for.</summary>
public sealed record InvitationToMake
{
    /// <summary>No more people join by one invitation.</summary>
    public const int MostTimes = 200;

    /// <summary>No invitation is good for longer, days.</summary>
    public const int MostDays = 90;

    /// <summary>How long one usually is, days.</summary>
    public const int UsualDays = 7;

    /// <summary>What those who join may do; without meaning for a member's own device.</summary>
    public MemberRole Role { get; init; } = MemberRole.Add;

    /// <summary>The member whose other device it lets in; null where new members join by it.</summary>
    public long? MemberId { get; init; }

    /// <summary>How many may join by it, 1 to <see cref="MostTimes"/>.</summary>
    public int Times { get; init; } = 1;

    /// <summary>How long it is good, at most <see cref="MostDays"/>.</summary>
    public required TimeSpan Life { get; init; }
}

/// <summary>An invitation that is still good.</summary>
/// <param name="Id">Tells invitations from each other.</param>
/// <param name="Role">What those who join by it may do.</param>
/// <param name="Member">The member whose other device it lets in; null where new members join by it.</param>
/// <param name="TimesLeft">How many more may join by it.</param>
/// <param name="Until">How long it is good, UTC.</param>
/// <param name="By">Who made it.</param>
public sealed record Invitation(long Id, MemberRole Role, Member? Member, int TimesLeft, DateTimeOffset Until, string By);

/// <summary>An invitation that was just made.</summary>
/// <param name="Invitation">The invitation.</param>
/// <param name="Code">What lets in; a secret, and kept nowhere else.</param>
public sealed record NewInvitation(Invitation Invitation, string Code);

/// <summary>Whoever does something with an archive that is not theirs alone.</summary>
/// <param name="Name">What they are called: a member's name, or <c>user@computer</c> of a command line.</param>
/// <param name="MemberId">Which member; null for a command line.</param>
public sealed record Actor(string Name, long? MemberId = null);

/// <summary>What somebody did.</summary>
public enum DeedKind
{
    /// <summary>Kept a card.</summary>
    CardKept,

    /// <summary>Took a card back whose files could not be made.</summary>
    CardTakenBack,

    /// <summary>Closed a card.</summary>
    CardClosed,

    /// <summary>Opened a card again.</summary>
    CardOpened,

    /// <summary>Kept a reading.</summary>
    ReadingKept,

    /// <summary>Removed readings or photos.</summary>
    Pruned,

    /// <summary>Wrote a note.</summary>
    NoteAdded,

    /// <summary>Put a tag on something.</summary>
    TagAdded,

    /// <summary>Took a tag off.</summary>
    TagRemoved,

    /// <summary>Kept things of one name under another.</summary>
    NameJoined,

    /// <summary>Took that back.</summary>
    NameTakenBack,

    /// <summary>Took a bundle in.</summary>
    BundleImported,

    /// <summary>Noted what was done to a machine.</summary>
    ChangeNoted,

    /// <summary>Took that back.</summary>
    ChangeRemoved,

    /// <summary>Kept a material for all, or changed it.</summary>
    MaterialKept,

    /// <summary>Had a phone forgotten.</summary>
    PhoneForgotten,

    /// <summary>Had the archive repaired.</summary>
    Repaired,

    /// <summary>Backed the archive up.</summary>
    BackedUp,

    /// <summary>Invited somebody.</summary>
    Invited,

    /// <summary>Withdrew an invitation.</summary>
    InvitationWithdrawn,

    /// <summary>Joined.</summary>
    Joined,

    /// <summary>Gave a member another role.</summary>
    RoleChanged,

    /// <summary>Sent a member away, or left.</summary>
    MemberLeft,
}

/// <summary>Something that somebody did to a workshop's archive.</summary>
/// <param name="Id">Its place in the order of all.</param>
/// <param name="Done">When, UTC.</param>
/// <param name="By">Who did it, by the name of that day.</param>
/// <param name="Kind">What they did.</param>
/// <param name="Subject">What they did it to, as it was called then; empty where the kind says all.</param>
/// <param name="CardId">The card that it was about; null for anything else. It may have been removed since.</param>
public sealed record Deed(long Id, DateTimeOffset Done, Actor By, DeedKind Kind, string Subject, long? CardId);
