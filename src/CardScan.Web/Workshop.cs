using CardScan.Model;
using CardScan.Workflow;

namespace CardScan.Web;

/// <summary>What all pages share: the archive, the profiles, who is in, and the photos under way.</summary>
internal sealed class Workshop : IAsyncDisposable
{
    private long _used;

    /// <summary>Opens the inbox and takes up what an earlier run left there.</summary>
    public Workshop(ServeRequest request)
    {
        // A page names what the archive has; the folder that the program happens to stand in is nobody's archive.
        Archive = request.Archive with { HasAllNames = true };
        (Profiles, Clock, DemoFolder) = (request.Profiles, request.Clock, request.DemoFolder);
        NoteUse();
        Page = request.Page;
        Doorway = new(Clock);
        Members = new(Archive, Clock);
        Inbox = new(Path.Combine(Archive.Folder, "inbox"), Clock);
        Bundles = new(Path.Combine(Archive.Folder, "inbox", "bundles"), Clock);
        // Nobody waits any more for what became of a bundle: it is sent again.
        foreach ((string id, _, _) in Bundles.Open()) Bundles.Drop(id);
        Readings = new(Archive);
        Settings = new(State, query => SettingsBook.Of(Archive, query with { Most = SettingsBook.UsualMost }));
        Cards = new(State, Archive.Find);
        KnownPhones = new(State, _ => Archive.Phones());
        Comparisons = new(Archive);
        Desk = new(this, Inbox);
    }

    /// <summary>The archive.</summary>
    public ArchivePlace Archive { get; }

    /// <summary>Machines, materials and preferences.</summary>
    public Profiles Profiles { get; }

    /// <summary>The time.</summary>
    public TimeProvider Clock { get; }

    /// <summary>Folder that holds the cards of the demo; null where there are none to try.</summary>
    public string? DemoFolder { get; }

    /// <summary>The page of a workshop, whose members are let in; null for the page of one person.</summary>
    public WorkshopPage? Page { get; }

    /// <summary>Who may come in.</summary>
    public Doorway Doorway { get; }

    /// <summary>Who is known, on the page of a workshop.</summary>
    public MemberShelf Members { get; }

    /// <summary>Tells pages that something changed.</summary>
    public Bell Bell { get; } = new();

    /// <summary>Photos on their way in.</summary>
    public Inbox Inbox { get; }

    /// <summary>Bundles on their way in.</summary>
    public Inbox Bundles { get; }

    /// <summary>Photos under way.</summary>
    public PhotoDesk Desk { get; }

    /// <summary>Kept readings, with their pictures.</summary>
    public ReadingShelf Readings { get; }

    /// <summary>Settings that were looked up.</summary>
    public QueryShelf<SettingsBook> Settings { get; }

    /// <summary>Cards that were looked for.</summary>
    public QueryShelf<FoundCards> Cards { get; }

    /// <summary>Phones whose tone curve is remembered, whatever is asked.</summary>
    public QueryShelf<ValueList<KnownPhone>> KnownPhones { get; }

    /// <summary>Readings that were compared.</summary>
    public ComparisonShelf Comparisons { get; }

    /// <summary>The way in for phones; null while they are kept out.</summary>
    public PhoneGate? Phones { get; set; }

    /// <summary>The archive as the sender of a request uses it: what they change is written down as theirs.</summary>
    public ArchivePlace ArchiveOf(HttpContext context) => ArchiveBy(DoorKeeper.GuestOf(context).Member?.AsActor);

    /// <summary>The archive as somebody uses it.</summary>
    /// <param name="by">The member; null for whoever started the page.</param>
    public ArchivePlace ArchiveBy(Actor? by) => by is null ? Archive : Archive with { By = by };

    /// <summary>The machines and preferences of the sender of a request, and the materials of all.</summary>
    public Profiles ProfilesOf(HttpContext context) =>
        DoorKeeper.FindGuest(context)?.Member is { } member ? Profiles.Of(member) : Profiles;

    /// <summary>Whether the sender of a request may change a card: their own, or, where their role is to keep, any.</summary>
    public bool MayChange(HttpContext context, long cardId) =>
        DoorKeeper.GuestOf(context) is { } guest
        && (guest.May(MemberRole.Keep) || (guest.May(MemberRole.Add) && Archive.Members.Kept(guest.Member!, cardId)));

    /// <summary>True for a guest who was not sent away.</summary>
    public bool IsIn(Guest guest) =>
        guest.Member is null ? Doorway.IsIn(guest) : Members.OfKey(guest.Key) is { IsRefused: false, Value: not null };

    /// <summary>The files tell what others changed. What was changed here is counted besides: a file's time moves in steps.</summary>
    private string State() => $"{Archive.State()} {Bell.Times(Topic.Archive)}";

    /// <summary>How long nobody has asked for anything; nothing while a photo is under way.</summary>
    public TimeSpan Quiet => Desk.IsIdle ? Clock.GetElapsedTime(Interlocked.Read(ref _used)) : TimeSpan.Zero;

    /// <summary>Somebody asks for something.</summary>
    public void NoteUse() => Interlocked.Exchange(ref _used, Clock.GetTimestamp());

    /// <inheritdoc/>
    public ValueTask DisposeAsync() => Desk.DisposeAsync();
}
