using CardScan.Language;
using CardScan.Model;
using CardScan.Vision;

namespace CardScan.Workflow;

/// <summary>A photo that was measured as soon as it came, with one of the cards that it shows.</summary>
public sealed class SeenPhoto
{
    internal SeenPhoto(MeasuredPhoto photo) => Photo = photo;

    internal MeasuredPhoto Photo { get; }

    /// <summary>Fingerprint of its bytes; null where they were not decoded.</summary>
    public string? Sha256 => Photo.Sha256;

    /// <summary>Number of the card; null where the photo shows none.</summary>
    public int? CardNumber => Photo.Card;

    /// <summary>The plan of that card; null where none is known.</summary>
    public Plan? Plan => Photo.Plan is { IsRefused: false } plan ? plan.Value.File.Plan : null;

    /// <summary>The corners of its card that are seen in it, and where those that are missing should be.</summary>
    public ValueList<CardCorner> Corners => Photo.Corners;

    /// <summary>What the photo is like; null where it could not be measured.</summary>
    public PhotoRecord? Record => Photo.View.IsRefused ? null : Photo.View.Value.Record;

    /// <summary>Why it could not be measured, and what to do; null where it was.</summary>
    public Refusal? Refusal => Photo.View.Refusal;

    /// <summary>
    /// True where a reading of its card uses it: also where it is too bright by itself, and tells of its phone's tones beside others.
    /// </summary>
    public bool TellsOfCard => Refusal is null || Photo.Aside is not null;

    /// <summary>Fingerprint of its plan's file, which tells the card from others of its number; null where none is known.</summary>
    public string? PlanSha256 => Photo.Plan is { IsRefused: false } plan ? plan.Value.File.Sha256 : null;
}

/// <summary>
/// Photos that come one by one: each is measured at once, and then its card is read with every photo that it had before.
/// </summary>
/// <remarks>
/// <see cref="See"/> may run beside <see cref="Read"/> and <see cref="Draw"/>, of which one call is made at a time. What a photo
/// showed is held for the last few cards only, so that memory and disk stay bounded however many photos come.
/// </remarks>
/// <param name="archive">Finds the plans and keeps the readings.</param>
public sealed class PhotoSitting(ArchivePlace archive) : IDisposable
{
    /// <summary>
    /// Photos of one card that are read together: a report of more would take long, and they tell hardly more.
    /// </summary>
    public const int MostOfCard = 12;

    /// <summary>Photos that are held in all, each with up to 23 MB of the temporary folder.</summary>
    private const int MostInAll = 16;

    private readonly ReadRequest _request = new() { Photos = [], Archive = archive };
    private readonly Lock _lock = new();
    private readonly List<HeldCard> _cards = [];
    private readonly List<SharedShelf> _dropped = [];
    private bool _isReading;

    /// <summary>A photo made small, whether or not it can be measured; null where its file shows nothing.</summary>
    /// <param name="path">Its file.</param>
    public static SmallPicture? Reduce(string path)
    {
        Outcome<byte[]> bytes = InputFile.ReadPhoto(path);
        return bytes.IsRefused ? null : CardReader.Reduce(new(path, bytes.Value));
    }

    /// <summary>Opens and measures a photo.</summary>
    /// <param name="path">Its file.</param>
    /// <param name="name">The name that it came with, told in messages and kept with the reading.</param>
    /// <returns>What it tells, once for each card that it shows; once where it shows none.</returns>
    public ValueList<SeenPhoto> See(string path, string name)
    {
        Outcome<PlanBook> plans = PlanBook.Of(_request);
        if (plans.IsRefused) return [new(new(path, plans.Refusal!) { Name = name })];
        PictureShelf shelf = new(mostInMemory: 0);
        ValueList<SeenPhoto> seen = MeasuredPhoto.Of(path, _request, plans.Value, ToneBook.Of(_request), shelf, name)
            .Select(card => new SeenPhoto(card)).ToValueList();
        (string Key, MeasuredPhoto Photo)[] held =
            [.. seen.Where(card => card.TellsOfCard && card.PlanSha256 is not null).Select(card => (card.PlanSha256!, card.Photo))];
        SharedShelf shared = new(shelf, held.Length);
        foreach ((string key, MeasuredPhoto photo) in held) Hold(key, photo, shared);
        return seen;
    }

    /// <summary>Looks at a small copy of a photo, before the photo itself has come; keeps nothing.</summary>
    /// <param name="copy">A JPEG or PNG file of the whole picture, reduced.</param>
    /// <param name="name">The photo's name.</param>
    /// <returns>What it is like, as far as a copy tells; or why it will be refused.</returns>
    public Outcome<PhotoRecord> Glance(ReadOnlyMemory<byte> copy, string name)
    {
        Outcome<PlanBook> plans = PlanBook.Of(_request);
        if (plans.IsRefused) return plans.Refusal!;
        Outcome<OpenPhoto> opened = CardReader.Open(new(name, copy));
        if (opened.IsRefused) return opened.Refusal!;
        using OpenPhoto photo = opened.Value;
        PhotoTones tones = ToneBook.Of(_request).In(photo, plans.Value);
        List<PhotoRecord> records = [];
        foreach (CardToMeasure card in plans.Value.CardsOf(photo.CardNumbers))
        {
            if (card.Plan.IsRefused) return card.Plan.Refusal!;
            Outcome<CardView> view = photo.Measure(card.Plan.Value.File.Plan, tones.Fit(new(), card.Plan.Value.File.Plan));
            if (view.IsRefused) return view.Refusal!;
            records.Add(view.Value.Record);
        }

        return records.MaxBy(record => record.Warnings.Count)!;
    }

    /// <summary>Reads the card of a photo with all photos of it that are held, and keeps the reading.</summary>
    /// <param name="photo">A photo that was measured.</param>
    /// <param name="by">Who sent it; null for whoever uses the archive.</param>
    /// <returns>
    /// The reading, kept, without the photo where that is refused by itself; or why there is none. Their files are needed no more where
    /// it is kept.
    /// </returns>
    public Outcome<ReadResult> Read(SeenPhoto photo, Actor? by = null)
    {
        ArgumentNullException.ThrowIfNull(photo);
        HeldPhoto[] photos;
        lock (_lock)
        {
            photos = [.. _cards.Find(card => card.Key == photo.PlanSha256)?.Photos ?? []];
            _isReading = true;
        }

        try
        {
            if (photos.Length == 0) return photo.Refusal ?? Refusal.OfInput(Codes.SittingOver);
            return ReadHeld(photos, photo.PlanSha256!, by);
        }
        finally
        {
            lock (_lock)
            {
                foreach (HeldPhoto read in photos) read.IsRead = true;
                LeavePictures();
            }
        }
    }

    /// <summary>
    /// Draws the annotated pictures of the readings that have none yet, and keeps them. The page, the settings and the guide are there
    /// before them; of a card's readings the last alone gets them, so that a photo more does not draw those before it again.
    /// </summary>
    /// <param name="isWanted">Asked before each picture: true where a photo waits, and the rest is drawn later.</param>
    public void Draw(Func<bool> isWanted)
    {
        while (NextToDraw() is { } card)
        {
            ReadCard undrawn = card.Undrawn!;
            bool isOver = true;
            try
            {
                ReadCard? drawn = undrawn.WithPictures(isWanted);
                isOver = drawn is not null;
                // Where they cannot be kept, the reading stands without them.
                drawn?.KeepPictures(archive);
            }
            finally
            {
                lock (_lock)
                {
                    if (isOver && card.Undrawn == undrawn) card.Undrawn = null;
                    LeavePictures();
                }
            }

            if (!isOver) return;
        }
    }

    private HeldCard? NextToDraw()
    {
        lock (_lock)
        {
            HeldCard? next = _cards.Find(card => card.Undrawn is not null);
            _isReading = next is not null;
            return next;
        }
    }

    /// <summary>From here on pictures that were let go meanwhile are gone.</summary>
    private void LeavePictures()
    {
        _isReading = false;
        foreach (SharedShelf shelf in _dropped) shelf.LetGo();
        _dropped.Clear();
    }

    private Outcome<ReadResult> ReadHeld(HeldPhoto[] photos, string key, Actor? by)
    {
        Outcome<ReadCard> card = ReadCard.Of([.. photos.Select(each => each.Photo)], _request, _ => { }, _ => []);
        if (card.IsRefused) return card.Refusal!;
        Outcome<ReadResult> result = card.Value.Write(_request with { Archive = archive with { By = by ?? archive.By } });
        if (result is { IsRefused: false, Value.Kept: { IsRefused: false } kept }) MoveToArchive(key, kept.Value.Id, card.Value);
        return result;
    }

    /// <summary>Lets the photos of a card go: those that come after are read without them.</summary>
    /// <param name="planSha256">Fingerprint of its plan's file.</param>
    public void Forget(string planSha256)
    {
        lock (_lock)
        {
            foreach (HeldCard card in _cards.Where(card => card.Key == planSha256).ToArray()) Remove(card);
        }
    }

    /// <summary>Lets everything go.</summary>
    public void Dispose()
    {
        lock (_lock)
        {
            foreach (HeldCard card in _cards.ToArray()) Remove(card);
        }
    }

    private void Hold(string key, MeasuredPhoto photo, SharedShelf shelf)
    {
        lock (_lock)
        {
            HeldCard card = _cards.Find(each => each.Key == key) ?? new(key);
            _cards.Remove(card);
            _cards.Add(card);
            // The same picture twice would count as two measurements that agree.
            foreach (HeldPhoto same in card.Photos.Where(each => each.Photo.Sha256 == photo.Sha256).ToArray()) Drop(card, same);
            if (card.Photos.Count >= MostOfCard && card.Photos.Find(each => each.IsRead) is { } oldest) Drop(card, oldest);
            card.Photos.Add(new(photo, shelf));
            // A photo that no reading has yet is let go by nothing but its reading: one or two more than the bound do no harm.
            while (_cards.Sum(each => each.Photos.Count) > MostInAll
                && _cards.Find(each => each.Photos.TrueForAll(held => held.IsRead)) is { } done) Remove(done);
        }
    }

    private void Remove(HeldCard card)
    {
        foreach (HeldPhoto photo in card.Photos.ToArray()) Drop(card, photo);
        _cards.Remove(card);
    }

    /// <summary>From here on the photos are those that the archive keeps.</summary>
    private void MoveToArchive(string key, long readingId, ReadCard read)
    {
        Outcome<ReadingEntry> entry = archive.Use(opened => opened.ReadingEntry(readingId));
        if (entry.IsRefused) return;
        lock (_lock)
        {
            if (_cards.Find(card => card.Key == key) is not { } card) return;
            // A photo that was let go meanwhile is followed by another one, and that by another reading.
            card.Undrawn = _dropped.Count == 0 ? read : null;
            foreach (HeldPhoto held in card.Photos)
            {
                if (entry.Value.Photos.FirstOrDefault(photo => photo.Sha256 == held.Photo.Sha256)?.Path is { } path)
                    held.Photo = held.Photo with { Path = path };
            }
        }
    }

    /// <summary>Lets a photo go; its picture stays as long as it may be looked at.</summary>
    private void Drop(HeldCard card, HeldPhoto photo)
    {
        card.Photos.Remove(photo);
        // Another reading follows, of the photos that are held now.
        card.Undrawn = null;
        if (_isReading) _dropped.Add(photo.Shelf);
        else photo.Shelf.LetGo();
    }

    /// <summary>The pictures of one photo's cards, which go with the last card that lets go.</summary>
    private sealed class SharedShelf
    {
        private readonly PictureShelf _shelf;
        private int _holders;

        public SharedShelf(PictureShelf shelf, int holders)
        {
            (_shelf, _holders) = (shelf, holders);
            if (holders == 0) shelf.Dispose();
        }

        public void LetGo()
        {
            if (Interlocked.Decrement(ref _holders) == 0) _shelf.Dispose();
        }
    }

    private sealed class HeldCard(string key)
    {
        public string Key => key;

        public List<HeldPhoto> Photos { get; } = [];

        /// <summary>Its last reading, as long as its annotated pictures are not drawn.</summary>
        public ReadCard? Undrawn { get; set; }
    }

    private sealed class HeldPhoto(MeasuredPhoto photo, SharedShelf shelf)
    {
        public MeasuredPhoto Photo { get; set; } = photo;

        public SharedShelf Shelf => shelf;

        /// <summary>True once a reading of its card has been tried with it.</summary>
        public bool IsRead { get; set; }
    }
}
