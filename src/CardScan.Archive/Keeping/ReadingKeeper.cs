using System.Text;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>The files of a reading, each written and waiting to be placed.</summary>
/// <param name="Photos">By position; null where a photo was not at hand.</param>
/// <param name="Annotated">Likewise.</param>
/// <param name="Report">The page, or null.</param>
internal sealed record StagedReading(IReadOnlyList<StagedFile?> Photos, IReadOnlyList<StagedFile?> Annotated, StagedFile? Report)
{
    /// <summary>All of them.</summary>
    public IEnumerable<StagedFile> All => Photos.Concat(Annotated).Append(Report).OfType<StagedFile>();
}

/// <summary>Readings and what belongs to them. Every method runs inside a transaction of its caller.</summary>
internal sealed class ReadingKeeper(Database database, FileStore files, TimeProvider clock)
{
    private readonly Currency _currency = new(database);

    /// <summary>
    /// Keeps a reading of a card. Reading the same photos again, alone or with others, adds a reading, which is then the current one.
    /// </summary>
    /// <param name="cardId">The card.</param>
    /// <param name="reading">The reading.</param>
    /// <param name="json">The bytes of its file.</param>
    /// <param name="staged">Its files.</param>
    /// <param name="readUtc">When it was read elsewhere; null for now, which makes it the current one.</param>
    public KeptReading Keep(long cardId, Reading reading, ReadOnlySpan<byte> json, StagedReading staged, string? readUtc = null)
    {
        string sha256 = CardJson.Sha256(json);
        if (database.Number("SELECT id FROM reading WHERE reading_sha256 = @sha256", ("sha256", sha256)) is { } known)
        {
            Complete(known, Wanted(known, staged));
            if (readUtc is null) _currency.Give(known);
            return new(known, cardId, IsNew: false);
        }

        foreach (StagedFile file in staged.All) Place(file);
        string read = readUtc ?? Database.Text(clock.GetUtcNow());
        long id = database.Count(
            """
            INSERT INTO reading (card_id, reading_sha256, reading, photo_set_sha256, is_current, report_sha256, read_utc)
            VALUES (@cardId, @sha256, @packed, @photoSet, 0, @report, @read)
            RETURNING id
            """,
            ("cardId", cardId), ("sha256", sha256), ("packed", Packed.Of(json)), ("photoSet", PhotoSet(reading)),
            ("report", staged.Report?.Sha256), ("read", read));
        PutPhotos(id, reading, staged);
        ReadingRows.Put(database, id, reading);
        // What a bundle says of a phone was not seen here, and would bend the photos of whoever has the same one.
        if (readUtc is null) new PhoneKeeper(database).Remember(id, reading, read);
        if (readUtc is null || !_currency.HasLater(id)) _currency.Give(id);
        SearchIndex.Refresh(database, cardId);
        return new(id, cardId, IsNew: true);
    }

    /// <summary>Fingerprint of a set of photos, whatever their order; a reading without any stands for itself.</summary>
    private static string PhotoSet(Reading reading) => reading.Photos.Count == 0
        ? CardJson.Sha256(Encoding.UTF8.GetBytes(CardJson.Write(reading)))
        : CardJson.Sha256(Encoding.UTF8.GetBytes(
            string.Join(' ', reading.Photos.Select(photo => photo.Sha256.ToLowerInvariant()).Order(StringComparer.Ordinal))));

    private void Place(StagedFile file)
    {
        long size = files.Keep(file);
        database.Execute(
            """
            INSERT INTO file (sha256, extension, size_bytes, kept_utc)
            VALUES (@sha256, @extension, @sizeBytes, @kept) ON CONFLICT DO NOTHING
            """,
            ("sha256", file.Sha256), ("extension", file.Extension), ("sizeBytes", size),
            ("kept", Database.Text(clock.GetUtcNow())));
    }

    private void PutPhotos(long id, Reading reading, StagedReading staged)
    {
        using RowWriter rows = new(
            database, "photo", "reading_id", "position", "file_name", "light", "photo_sha256", "kept_sha256", "annotated_sha256");
        foreach ((int i, PhotoRecord photo) in reading.Photos.Index())
        {
            rows.Put(
                id, i, photo.File, EnumName.Of(photo.Light), photo.Sha256,
                staged.Photos.ElementAtOrDefault(i)?.Sha256, staged.Annotated.ElementAtOrDefault(i)?.Sha256);
        }
    }

    /// <summary>
    /// The files that a known reading lacks, or has already and may need again; another rendering of one that it has is not
    /// among them.
    /// </summary>
    private StagedReading Wanted(long id, StagedReading staged)
    {
        List<(string? Kept, string? Annotated)> slots = database.Query(
            "SELECT kept_sha256, annotated_sha256 FROM photo WHERE reading_id = @id ORDER BY position",
            row => (row.TextOrNull("kept_sha256"), row.TextOrNull("annotated_sha256")), ("id", id));
        string? report = database.Single(
            "SELECT report_sha256 FROM reading WHERE id = @id", row => row.TextOrNull("report_sha256"), ("id", id));
        return new(
            [.. staged.Photos.Select((file, i) => Only(file, slots.ElementAtOrDefault(i).Kept))],
            [.. staged.Annotated.Select((file, i) => Only(file, slots.ElementAtOrDefault(i).Annotated))],
            Only(staged.Report, report));

        static StagedFile? Only(StagedFile? file, string? has) => has is null || has == file?.Sha256 ? file : null;
    }

    private void Complete(long id, StagedReading wanted)
    {
        foreach (StagedFile file in wanted.All) Place(file);
        database.Execute(
            "UPDATE reading SET report_sha256 = coalesce(@report, report_sha256) WHERE id = @id",
            ("id", id), ("report", wanted.Report?.Sha256));
        for (int i = 0; i < Math.Max(wanted.Photos.Count, wanted.Annotated.Count); i++)
        {
            database.Execute(
                """
                UPDATE photo SET kept_sha256 = coalesce(@kept, kept_sha256), annotated_sha256 = coalesce(@annotated, annotated_sha256)
                WHERE reading_id = @id AND position = @i
                """,
                ("id", id), ("i", i), ("kept", wanted.Photos.ElementAtOrDefault(i)?.Sha256),
                ("annotated", wanted.Annotated.ElementAtOrDefault(i)?.Sha256));
        }
    }
}
