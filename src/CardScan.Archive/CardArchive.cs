using System.Data.Common;
using System.Text;
using CardScan.Language;
using CardScan.Model;
using SQLitePCL;

namespace CardScan.Archive;

/// <summary>
/// The store of plans, photos, readings and annotated pictures: the one entry to this stage. A folder with a database and files named
/// after their content (docs/archive.md); or such a folder beside a database that a whole workshop uses (docs/workshop.md).
/// </summary>
/// <remarks>
/// What a disk or a damaged file can cause is a refusal, and leaves the archive as it was. Whatever a method returns
/// as kept is on the disk. Several processes may use one archive; one object is for one thread.
/// </remarks>
public sealed partial class CardArchive : IDisposable
{
    private readonly Database _database;
    private readonly FileStore _files;
    private readonly TimeProvider _clock;
    private readonly Actor? _by;

    private CardArchive(string name, Database database, FileStore files, TimeProvider clock, Actor? by) =>
        (Name, _database, _files, _clock, _by) = (name, database, files, clock, by);

    /// <summary>The native library of the database.</summary>
    public static ValueList<NativePart> NativeParts => [new("SQLite", EngineVersion)];

    /// <summary>Its folder, or the address of a workshop's.</summary>
    public string Name { get; }

    private CardKeeper Cards => new(_database, _clock);

    private ReadingKeeper Readings => new(_database, _files, _clock);

    private CardFinder CardFinder => new(_database);

    private ReadingFinder ReadingFinder => new(_database, _files);

    /// <summary>Keeps a card by its plan.</summary>
    /// <param name="planJson">The bytes of the plan's file.</param>
    public Outcome<KeptCard> KeepCard(ReadOnlyMemory<byte> planJson) => Changed(() =>
    {
        Outcome<PlanFile> plan = CardJson.ReadPlan(planJson.Span);
        return plan.IsRefused ? plan.Refusal! : _database.Write<KeptCard>(() => Keep(plan.Value, planJson.Span));
    });

    /// <summary>Keeps a new card under the next free number, which no other process gets meanwhile.</summary>
    /// <param name="planOf">
    /// Makes the plan for the number that is given, and returns the bytes of its file; other writers wait meanwhile.
    /// </param>
    public Outcome<KeptCard> KeepNextCard(Func<int, Outcome<byte[]>> planOf)
    {
        ArgumentNullException.ThrowIfNull(planOf);
        return Changed(() => _database.Write<KeptCard>(() =>
        {
            Outcome<int> number = NextNumber();
            if (number.IsRefused) return number.Refusal!;
            Outcome<byte[]> json = planOf(number.Value);
            if (json.IsRefused) return json.Refusal!;
            Outcome<PlanFile> plan = CardJson.ReadPlan(json.Value);
            return plan.IsRefused ? plan.Refusal! : Keep(plan.Value, json.Value);
        }));
    }

    /// <summary>Takes a card away whose files could not be made: its number is free again. One that was read meanwhile stays.</summary>
    /// <param name="card">What keeping it gave; one that was there before stays too.</param>
    public Outcome<KeptCard> TakeBack(KeptCard card)
    {
        ArgumentNullException.ThrowIfNull(card);
        return Changed(() => _database.Write<KeptCard>(() =>
        {
            if (!card.IsNew || ReadingFinder.OfCard(card.Id).Count > 0) return card;
            Cards.Remove(card.Id);
            DeedBook.Write(DeedKind.CardTakenBack, card.Name, card.Id);
            return card;
        }));
    }

    private KeptCard Keep(PlanFile plan, ReadOnlySpan<byte> json)
    {
        KeptCard kept = Cards.Keep(plan, json);
        if (kept.IsNew) DeedBook.Write(DeedKind.CardKept, kept.Name, kept.Id);
        return kept;
    }

    /// <summary>The next free number, which any other process may take meanwhile.</summary>
    public Outcome<int> FreeNumber() => Guard(NextNumber);

    private Outcome<int> NextNumber() =>
        Cards.NextNumber() is { } number ? number : Refusal.OfInput(Codes.NumbersUsed, ("last", Plan.Numbers - 1));

    /// <summary>The open cards of a number, newest first: the first is the one that a photo with that number is taken to show.</summary>
    public Outcome<ValueList<CardEntry>> OpenCards(int number) => Guard<ValueList<CardEntry>>(() => CardFinder.OpenCards(number));

    /// <summary>The bytes of a card's plan.</summary>
    public Outcome<byte[]> PlanJson(long cardId) => Guard<byte[]>(() => Cards.PlanJson(cardId));

    /// <summary>
    /// Keeps a reading with its card, photos, annotated pictures and page, all or nothing. The very same reading is kept
    /// once; another reading of the same photos is added, and is the current one from then on.
    /// </summary>
    /// <param name="what">The reading and its files.</param>
    /// <returns>What was kept; or why nothing was, also where a photo is not the one that was read any more.</returns>
    /// <exception cref="ArgumentException">The plan is not the one that the reading names, or there are more files than photos.</exception>
    public Outcome<KeptReading> KeepReading(ReadingToKeep what)
    {
        ArgumentNullException.ThrowIfNull(what);
        CheckFingerprints(what);
        return Changed(() =>
        {
            Outcome<PlanFile> plan = CardJson.ReadPlan(what.PlanJson.Span);
            if (plan.IsRefused) return plan.Refusal!;
            byte[] json = Encoding.UTF8.GetBytes(CardJson.Write(what.Reading));
            using Staging staging = new(_files);
            StagedReading staged = Stage(staging, what);
            if (ChangedPhoto(staged, what.Reading) is { } changed) return changed;
            staging.Send();
            return _database.Write<KeptReading>(() =>
            {
                long card = Keep(plan.Value, what.PlanJson.Span).Id;
                KeptReading kept = Readings.Keep(card, what.Reading, json, staged);
                if (kept.IsNew) DeedBook.Write(DeedKind.ReadingKept, kept.Name, card);
                bool isTheirs = what.Claim is not { } claim || Queue!.Finish(claim, kept.Id);
                return isTheirs ? kept : Refusal.OfPlace(Codes.QueueTakenOver);
            });
        });
    }

    /// <summary>Several looks at the archive as it is at the first, whatever other processes keep or remove meanwhile.</summary>
    /// <param name="work">What only looks.</param>
    public Outcome<T> Look<T>(Func<Outcome<T>> work)
    {
        ArgumentNullException.ThrowIfNull(work);
        return Guard(() => _database.Look(work));
    }

    /// <summary>The cards that answer a query, newest first.</summary>
    public Outcome<ValueList<CardEntry>> Find(ArchiveQuery query) => Guard<ValueList<CardEntry>>(() => CardFinder.Find(query));

    /// <summary>How many cards answer a query, whatever its limit.</summary>
    /// <param name="query">The query.</param>
    /// <param name="mostCounted">Counted no further: the cards of a large archive are not all looked at to tell their number.</param>
    public Outcome<long> Count(ArchiveQuery query, long mostCounted = long.MaxValue) =>
        Guard<long>(() => CardFinder.Count(query, mostCounted));

    /// <summary>Ids of the cards that answer a query, the oldest first, whatever its limit.</summary>
    public Outcome<ValueList<long>> CardIds(ArchiveQuery query) =>
        Guard<ValueList<long>>(() => CardFinder.Ids(query).ToValueList());

    /// <summary>One card.</summary>
    public Outcome<CardEntry> Card(long id) => Guard<CardEntry>(() => CardFinder.Card(id));

    /// <summary>The readings of a card, newest first, those that were superseded included.</summary>
    public Outcome<ValueList<ReadingEntry>> ReadingsOf(long cardId) => Guard<ValueList<ReadingEntry>>(() => ReadingFinder.OfCard(cardId));

    /// <summary>
    /// Cards of a plan's process, material, thickness, batch and machine that were read, newest reading first: those that may
    /// be scored together with its card. Cards of the plan's own number are not among them: one card counts once.
    /// </summary>
    /// <param name="plan">The plan.</param>
    /// <param name="beforeReading">Only cards that were read before the reading of this id; null for all.</param>
    /// <param name="most">How many are given at most.</param>
    public Outcome<ValueList<LikeCard>> CardsLike(Plan plan, long? beforeReading, int most)
    {
        ArgumentNullException.ThrowIfNull(plan);
        return Guard<ValueList<LikeCard>>(() => new LikeCardFinder(_database).Find(plan, beforeReading ?? long.MaxValue, most));
    }

    /// <summary>A reading's entry.</summary>
    public Outcome<ReadingEntry> ReadingEntry(long id) => Guard<ReadingEntry>(() => ReadingFinder.Entry(id));

    /// <summary>The newest current reading of a card that has a photo, its file kept; null where none has.</summary>
    /// <param name="sha256">Fingerprint of the photo's file.</param>
    /// <param name="planSha256">Fingerprint of the card's plan.</param>
    public Outcome<long?> ReadingOfPhoto(string sha256, string planSha256) => Guard<long?>(() => ReadingFinder.OfPhoto(sha256, planSha256));

    /// <summary>A reading as it was kept.</summary>
    public Outcome<Reading> Reading(long id) => Guard(() => CardJson.ReadReading(ReadingFinder.Json(id)));

    /// <inheritdoc/>
    public void Dispose() => _database.Dispose();

    private static string EngineVersion()
    {
        Batteries_V2.Init();
        return raw.sqlite3_libversion().utf8_to_string();
    }

    /// <summary>What neither disk nor file explains is a fault of the program, unless the archive turns out to be damaged.</summary>
    private Outcome<T> Guard<T>(Func<Outcome<T>> work) => StorageFault.Guard(Name, () =>
    {
        try
        {
            return work();
        }
        catch (Exception e) when (e is DbException or InvalidOperationException && StorageFault.Of(e, Name) is null)
        {
            if (IsSound()) throw;
            return StorageFault.Damaged(Name);
        }
        catch (IOException e) when (_files.Incoming is null && DiskFault.IsFull(e))
        {
            // What goes into a bucket waits in the temporary folder; nothing else of such an archive is on this computer.
            return DiskFault.OfTemporary(e);
        }
    });

    /// <summary>The same for what writes: refused at once where nothing can be written.</summary>
    private Outcome<T> Changed<T>(Func<Outcome<T>> work) => _database.Unchangeable is { } refusal ? refusal : Guard(work);

    private bool IsSound()
    {
        try
        {
            return new ArchiveCheck(_database, _files).Run().IsSound;
        }
        catch (Exception e) when (e is DbException or InvalidOperationException or InvalidDataException)
        {
            return false;
        }
    }

    private static StagedReading Stage(Staging staging, ReadingToKeep what) => new(
        [.. what.Photos.Select(photo => staging.Add(photo, FileStore.PictureExtension(photo.Span)))],
        [.. what.AnnotatedPictures.Select(picture => staging.Add(picture, FileStore.PictureExtension(picture.Span)))],
        what.Report.IsEmpty ? null : staging.Add(what.Report, "html"));

    private static void CheckFingerprints(ReadingToKeep what)
    {
        if (!Same(CardJson.Sha256(what.PlanJson.Span), what.Reading.PlanSha256))
            throw new ArgumentException("The plan is not the reading's.", nameof(what));
        int most = what.Reading.Photos.Count;
        if (what.Photos.Count > most || what.AnnotatedPictures.Count > most)
            throw new ArgumentException("There are more files than photos.", nameof(what));
    }

    /// <summary>A photo whose file changed after it was measured.</summary>
    private static Refusal? ChangedPhoto(StagedReading staged, Reading reading)
    {
        (_, PhotoRecord? changed) = staged.Photos.Zip(reading.Photos).FirstOrDefault(pair => !Same(pair.First!.Sha256, pair.Second.Sha256));
        return changed is null ? null : Refusal.OfPlace(Codes.PhotoChanged, ("file", changed.File));
    }

    private static bool Same(string given, string? named) => string.Equals(given, named, StringComparison.OrdinalIgnoreCase);
}
