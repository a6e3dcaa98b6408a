using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Names, notes, tags and the state of cards.</content>
public sealed partial class CardArchive
{
    /// <summary>No note is longer, letters.</summary>
    public const int MostNoteLetters = 10_000;

    /// <summary>No new name is longer, letters.</summary>
    private const int MostNameLetters = 200;

    /// <summary>No tag is longer, letters.</summary>
    private const int MostTagLetters = 60;

    /// <summary>
    /// What a person means by a name: <c>r12</c> a reading, <c>c5</c> a card, <c>17</c> the newest open card of that number (or
    /// the newest closed one), anything else a batch.
    /// </summary>
    public Outcome<ArchiveSubject> Resolve(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return Guard(() => new NameResolver(_database).Resolve(name.Trim()));
    }

    /// <summary>
    /// The readings that a subject stands for, newest first: itself, or the current ones of a card or of a batch's cards.
    /// </summary>
    public Outcome<ValueList<ReadingEntry>> ReadingsOf(ArchiveSubject subject)
    {
        ArgumentNullException.ThrowIfNull(subject);
        return Guard<ValueList<ReadingEntry>>(() => subject.ReadingId is { } id
            ? [ReadingFinder.Entry(id)]
            : CardFinder.Ids(new() { Subject = subject }).SelectMany(ReadingFinder.OfCard)
                .Where(reading => reading.IsCurrent).OrderByDescending(reading => reading.Id).ToValueList());
    }

    /// <summary>
    /// All current settings: for every material, thickness, machine and goal the newest one, with the machine's record, how sure it
    /// is and what the other cards say of it. What was read last comes first.
    /// </summary>
    /// <param name="query">
    /// Which cards a setting may come from; near thicknesses are found too. Others of the same material and machine are heard all the
    /// same.
    /// </param>
    public Outcome<ValueList<KeptSetting>> Settings(ArchiveQuery query)
    {
        ArgumentNullException.ThrowIfNull(query);
        return Guard<ValueList<KeptSetting>>(() => new SettingFinder(_database).Find(query));
    }

    /// <summary>Keeps everything of one name under another, together with what is there already; plans keep the old one.</summary>
    /// <param name="kind">What is named.</param>
    /// <param name="old">Its name; of a batch also with its material: <c>birch plywood/B-0412</c>.</param>
    /// <param name="newName">The name to keep it under.</param>
    public Outcome<KeptName> Rename(NamedKind kind, string old, string newName)
    {
        ArgumentNullException.ThrowIfNull(old);
        ArgumentNullException.ThrowIfNull(newName);
        if (string.IsNullOrWhiteSpace(newName) || newName.Trim().Length > MostNameLetters)
            return Refusal.OfInput(Codes.RenameLength, ("most", MostNameLetters));
        return Changed(() => _database.Write(() => Noted(DeedKind.NameJoined, Names.Rename(kind, old.Trim(), newName.Trim()))));
    }

    /// <summary>Takes that back: what has the name is kept under it again.</summary>
    /// <param name="kind">What is named.</param>
    /// <param name="old">The old name.</param>
    public Outcome<KeptName> TakeNameBack(NamedKind kind, string old)
    {
        ArgumentNullException.ThrowIfNull(old);
        return Changed(() => _database.Write(() => Noted(DeedKind.NameTakenBack, Names.TakeBack(kind, old.Trim()))));
    }

    private Outcome<KeptName> Noted(DeedKind what, Outcome<KeptName> name)
    {
        if (!name.IsRefused) DeedBook.Write(what, $"{name.Value.Old} → {name.Value.New}");
        return name;
    }

    /// <summary>The names that stand for others.</summary>
    public Outcome<ValueList<KeptName>> KeptNames() => Guard<ValueList<KeptName>>(() => Names.All());

    /// <summary>Names that are likely one, however they were typed.</summary>
    public Outcome<ValueList<LikeNames>> LikeNames() => Guard<ValueList<LikeNames>>(() => Names.Alike());

    private NameKeeper Names => new(_database);

    /// <summary>Writes a note on a card, a reading or a batch; the same note again changes nothing.</summary>
    public Outcome<NoteEntry> AddNote(ArchiveSubject on, string text)
    {
        ArgumentNullException.ThrowIfNull(on);
        ArgumentNullException.ThrowIfNull(text);
        if (string.IsNullOrWhiteSpace(text) || text.Length > MostNoteLetters)
            return Refusal.OfInput(Codes.NoteLength, ("letters", text.Trim().Length), ("most", MostNoteLetters));
        return Changed(() => _database.Write<NoteEntry>(() =>
        {
            DateTimeOffset now = _clock.GetUtcNow();
            Makers.AddNote(on, text.Trim(), Database.Text(now));
            DeedBook.Write(DeedKind.NoteAdded, on.Name, CardOf(on));
            return new NoteEntry(on.Name, text.Trim(), now);
        }));
    }

    /// <summary>The notes on a subject, and on what belongs to it: a card's readings, and its batch. Oldest first.</summary>
    public Outcome<ValueList<NoteEntry>> Notes(ArchiveSubject on) => Guard<ValueList<NoteEntry>>(() => Makers.Notes(on));

    /// <summary>Puts tags on a card, a reading or a batch, or takes them off.</summary>
    /// <param name="on">What gets them.</param>
    /// <param name="words">Tags: one word each.</param>
    /// <param name="isOff">True to take them off.</param>
    public Outcome<ValueList<string>> Tag(ArchiveSubject on, ValueList<string> words, bool isOff = false)
    {
        ArgumentNullException.ThrowIfNull(on);
        ArgumentNullException.ThrowIfNull(words);
        if (words.FirstOrDefault(word => !IsTag(word)) is { } wrong)
            return Refusal.OfInput(Codes.TagWord, ("word", wrong), ("most", MostTagLetters));
        return Changed(() => _database.Write<ValueList<string>>(() =>
        {
            Makers.Tag(on, words, isOff);
            DeedBook.Write(isOff ? DeedKind.TagRemoved : DeedKind.TagAdded, $"{on.Name}: {string.Join(' ', words)}", CardOf(on));
            return words;
        }));
    }

    /// <summary>Closes a card, so that photos with its number do not find its plan any more; or opens it again.</summary>
    public Outcome<CardEntry> Close(long cardId, bool isOpenedAgain = false) => Changed(() => _database.Write<CardEntry>(() =>
    {
        _database.Execute(
            $"UPDATE card SET closed_utc = {(isOpenedAgain ? "NULL" : "coalesce(closed_utc, @now)")} WHERE id = @cardId",
            ("now", Database.Text(_clock.GetUtcNow())), ("cardId", cardId));
        DeedBook.Write(isOpenedAgain ? DeedKind.CardOpened : DeedKind.CardClosed, CardEntry.NameOf(cardId), cardId);
        return CardFinder.Card(cardId);
    }));

    private long? CardOf(ArchiveSubject subject) =>
        subject.CardId ?? (subject.ReadingId is { } reading ? ReadingFinder.Entry(reading).CardId : null);

    private static bool IsTag(string word) =>
        word.Length is > 0 and <= MostTagLetters && !word.Any(c => char.IsWhiteSpace(c) || char.IsControl(c));

    private NotesAndTags Makers => new(_database);
}
