using System.Text;
using CardScan.Archive;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Which archive is used, and what a person may do with it.</summary>
/// <param name="Name">Its folder, or the address of a workshop's (docs/workshop.md).</param>
/// <param name="Clock">Tells when something is kept.</param>
public sealed record ArchivePlace(string Name, TimeProvider Clock)
{
    /// <summary>The folder of its files; where they are in a bucket, one of this computer for what is on its way there.</summary>
    public string Folder => CardArchive.FolderOf(Name) ?? Path.Combine(
        Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify),
        "cardscan-inbox", CardJson.Sha256(Encoding.UTF8.GetBytes(Name))[..16]);

    /// <summary>The bucket of its files: <c>s3://cards/shop</c>; null where they are in a folder.</summary>
    public string? Bucket => CardArchive.FolderOf(Name) is null ? CardArchive.FilesOf(Name) : null;

    /// <summary>A file's bytes by the path that the archive told; null where it is not there.</summary>
    /// <param name="path">The path.</param>
    public Outcome<byte[]?> FileBytes(string path) => CardArchive.FileBytes(Name, path);

    /// <summary>
    /// True where names stand for what the archive has and nothing else, whatever files lie in the folder that the process stands in.
    /// </summary>
    public bool HasAllNames { get; init; }

    /// <summary>Who uses it, where what they do is to be written down; null for an archive of somebody's own.</summary>
    public Actor? By { get; init; }

    /// <summary>Who may use it by its page, and who did what.</summary>
    public MemberBook Members => new(this);

    /// <summary>Makes the archive where there is none.</summary>
    /// <returns>Null where it is there; or why it cannot be made or opened.</returns>
    public Refusal? Prepare() => Use(archive => archive.Count(new()), mayMake: true).Refusal;

    /// <summary>The cards that answer a query, newest first, and how many would without its limit.</summary>
    /// <param name="query">The query.</param>
    public Outcome<FoundCards> Find(ArchiveQuery query) => Use<FoundCards>(archive =>
    {
        Outcome<ValueList<CardEntry>> cards = archive.Find(query);
        if (cards.IsRefused) return cards.Refusal!;
        Outcome<long> count = archive.Count(query, FoundCards.MostCounted + 1);
        return count.IsRefused ? count.Refusal! : new FoundCards(cards.Value, count.Value);
    });

    /// <summary>The phones whose tone curve is remembered, each with the curve that is expected of its next photo.</summary>
    public Outcome<ValueList<KnownPhone>> Phones() => Use<ValueList<KnownPhone>>(archive =>
    {
        Outcome<ValueList<PhoneEntry>> phones = archive.Phones();
        return phones.IsRefused ? phones.Refusal! : phones.Value.Select(KnownPhone.Of).OfType<KnownPhone>().ToValueList();
    });

    /// <summary>Forgets a phone; readings stay as they are.</summary>
    /// <param name="name">Its name: <c>p2</c>.</param>
    public Outcome<PhoneEntry> ForgetPhone(string name) => Use(archive => archive.ForgetPhone(name));

    /// <summary>Another text after whatever any process has changed, and each time where that cannot be told.</summary>
    public string State() => CardArchive.State(Name) ?? $"{Guid.NewGuid()}";

    /// <summary>True where a text is the address of a workshop's archive, not a folder.</summary>
    /// <param name="text">What a person gave.</param>
    public static bool IsAddress(string text) => CardArchive.IsAddress(text);

    /// <summary>Everything about a card, a reading or a batch.</summary>
    /// <param name="name">Its name.</param>
    public Outcome<ArchiveView> Show(string name) => With<ArchiveView>(name, (archive, subject) =>
    {
        if (subject.ReadingId is { } id) return KeptReadingView.Of(archive, id);
        Outcome<ValueList<CardEntry>> cards = archive.Find(new ArchiveQuery { Subject = subject });
        return cards.IsRefused ? cards.Refusal! : KeptCardView.Of(archive, cards.Value);
    });

    /// <summary>The newest reading of a card that keeps a photo: <c>r12</c>; null where none does, or it cannot be told.</summary>
    /// <param name="sha256">Fingerprint of the photo's file.</param>
    /// <param name="planSha256">Fingerprint of the card's plan.</param>
    public string? ReadingOfPhoto(string sha256, string planSha256)
    {
        Outcome<long?> id = Use(archive => archive.ReadingOfPhoto(sha256, planSha256));
        return id is { IsRefused: false, Value: { } found } ? ReadingEntry.NameOf(found) : null;
    }

    /// <summary>Writes a note on a card, a reading or a batch.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="text">The note.</param>
    public Outcome<NoteEntry> AddNote(string name, string text) => With(name, (archive, subject) => archive.AddNote(subject, text));

    /// <summary>Puts tags on a card, a reading or a batch, or takes them off.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="tags">Tags: one word each.</param>
    /// <param name="isOff">True to take them off.</param>
    public Outcome<TaggedSubject> Tag(string name, ValueList<string> tags, bool isOff) => With<TaggedSubject>(name, (archive, subject) =>
    {
        Outcome<ValueList<string>> done = archive.Tag(subject, tags, isOff);
        return done.IsRefused ? done.Refusal! : new TaggedSubject(subject.Name, done.Value);
    });

    /// <summary>Closes a card, or opens it again.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="isOpenedAgain">True to open it.</param>
    public Outcome<CardEntry> Close(string name, bool isOpenedAgain) => With(name, (archive, subject) =>
        subject.CardId is { } id ? archive.Close(id, isOpenedAgain) : Refusal.OfInput(Codes.ArchiveNoCard, ("name", subject.Name)));

    /// <summary>Keeps everything of one name under another, together with what is there already.</summary>
    /// <param name="kind">What is named.</param>
    /// <param name="old">Its name.</param>
    /// <param name="newName">The name to keep it under.</param>
    public Outcome<KeptName> Rename(NamedKind kind, string old, string newName) => Use(archive => archive.Rename(kind, old, newName));

    /// <summary>Takes that back.</summary>
    /// <param name="kind">What is named.</param>
    /// <param name="old">The old name.</param>
    public Outcome<KeptName> TakeNameBack(NamedKind kind, string old) => Use(archive => archive.TakeNameBack(kind, old));

    /// <summary>The names that stand for others.</summary>
    public Outcome<ValueList<KeptName>> KeptNames() => Use(archive => archive.KeptNames());

    /// <summary>Keeps what a bundle holds and the archive does not, all or nothing.</summary>
    /// <param name="path">The bundle.</param>
    public Outcome<BundlePart> Import(string path) => Use(archive => archive.ImportBundle(path), mayMake: true);

    /// <summary>Puts everything into another archive, which is made where there is none and must be empty.</summary>
    /// <param name="to">The other archive.</param>
    public Outcome<CopiedArchive> CopyTo(ArchivePlace to)
    {
        ArgumentNullException.ThrowIfNull(to);
        return Use(archive => to.Use(other => archive.CopyTo(other), mayMake: true));
    }

    /// <summary>The jobs in a workshop's queue, newest first, those that are done after the others.</summary>
    public Outcome<ValueList<QueueJob>> QueueJobs() => Use(archive => archive.QueueJobs());

    /// <summary>One job of the queue.</summary>
    /// <param name="name">Its name: <c>q3</c>.</param>
    public Outcome<QueueJob> QueueJob(string name) => Use(archive => archive.QueueJob(name));

    /// <summary>Takes a job out of the queue; what was read of it stays.</summary>
    /// <param name="name">Its name.</param>
    public Outcome<QueueJob> DropQueueJob(string name) => Use(archive => archive.DropQueueJob(name));

    /// <summary>Checks everything; changes nothing.</summary>
    public Outcome<ArchiveHealth> Verify() => Use(archive => archive.Verify());

    /// <summary>Repairs what can be repaired.</summary>
    /// <returns>What was done, one line each.</returns>
    public Outcome<ValueList<string>> Repair() => Use(archive => archive.Repair());

    /// <summary>Does something with the archive.</summary>
    /// <param name="work">What to do.</param>
    /// <param name="mayMake">True to make the archive where there is none.</param>
    internal Outcome<T> Use<T>(Func<CardArchive, Outcome<T>> work, bool mayMake = false)
    {
        Outcome<CardArchive> opened = CardArchive.Open(Name, Clock, mayMake, By);
        if (opened.IsRefused) return opened.Refusal!;
        using CardArchive archive = opened.Value;
        return work(archive);
    }

    private Outcome<T> With<T>(string name, Func<CardArchive, ArchiveSubject, Outcome<T>> work) => Use(archive =>
    {
        Outcome<ArchiveSubject> subject = archive.Resolve(name);
        return subject.IsRefused ? subject.Refusal! : work(archive, subject.Value);
    });
}

/// <summary>Cards that answer a query.</summary>
/// <param name="Cards">The cards, newest first, as many as the query asks for.</param>
/// <param name="Count">How many there are; above <see cref="MostCounted"/> there are that many and more.</param>
public sealed record FoundCards(ValueList<CardEntry> Cards, long Count)
{
    /// <summary>Cards are counted no further, so that nobody waits for a number that nobody needs.</summary>
    public const int MostCounted = 10_000;

    /// <summary>True where there are more than were counted.</summary>
    public bool IsUncounted => Count > MostCounted;
}

/// <summary>Something with its tags.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Tags">The tags that were put on or taken off.</param>
public sealed record TaggedSubject(string Name, ValueList<string> Tags);
