using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Readings and what belongs to them.</summary>
/// <param name="database">The database.</param>
/// <param name="files">Gives kept files their paths; null where no path is asked for.</param>
internal sealed class ReadingFinder(Database database, FileStore? files)
{
    /// <summary>The readings of a card, newest first.</summary>
    public ValueList<ReadingEntry> OfCard(long cardId) =>
        database.Query("SELECT id FROM reading WHERE card_id = @cardId ORDER BY id DESC", row => row.Long("id"), ("cardId", cardId))
            .Select(Entry).ToValueList();

    /// <summary>One reading's entry.</summary>
    public ReadingEntry Entry(long id) => database.Single(
        """
        SELECT card_id, read_utc, is_current, report_sha256, file.extension
        FROM reading LEFT JOIN file ON file.sha256 = reading.report_sha256 WHERE id = @id
        """,
        row => new ReadingEntry
        {
            Id = id,
            CardId = row.Long("card_id"),
            ReadUtc = Database.Time(row.Text("read_utc")),
            IsCurrent = row.Flag("is_current"),
            ReportPath = PathOf(row.TextOrNull("report_sha256"), row.TextOrNull("extension")),
            Photos = [],
            Recommendations = [],
        }, ("id", id)) with { Photos = Photos(id), Recommendations = Recommendations([id])[id].ToValueList() };

    /// <summary>The newest current reading that keeps a photo; null where none does.</summary>
    public long? OfPhoto(string sha256, string planSha256) => database.Number(
        """
        SELECT max(reading.id) FROM photo JOIN reading ON reading.id = reading_id JOIN card ON card.id = card_id
        WHERE kept_sha256 = @sha256 AND is_current = 1 AND plan_sha256 = @plan
        """,
        ("sha256", sha256), ("plan", planSha256));

    /// <summary>The newest current readings of a plan's card, newest first.</summary>
    public List<long> OfPlan(string planSha256, int most) => database.Query(
        """
        SELECT reading.id FROM reading JOIN card ON card.id = card_id
        WHERE plan_sha256 = @plan AND is_current = 1 ORDER BY reading.id DESC LIMIT @most
        """, row => row.Long("id"), ("plan", planSha256), ("most", most));

    /// <summary>The same, the oldest first, whether or not they were superseded.</summary>
    public List<long> FirstOfPlan(string planSha256, int most) => database.Query(
        """
        SELECT reading.id FROM reading JOIN card ON card.id = card_id
        WHERE plan_sha256 = @plan ORDER BY reading.id LIMIT @most
        """, row => row.Long("id"), ("plan", planSha256), ("most", most));

    /// <summary>The bytes of a reading's file.</summary>
    public byte[] Json(long id) =>
        Packed.Open(database.Single("SELECT reading FROM reading WHERE id = @id", row => row.Bytes("reading"), ("id", id)));

    /// <summary>The recommendations of readings, in their order.</summary>
    public ILookup<long, RecommendationEntry> Recommendations(IEnumerable<long> ids) => database.Query(
        $"""
        SELECT recommendation.reading_id, recommendation.goal, recommendation.power_percent, recommendation.speed_mm_per_min,
            recommendation.earlier_card, coalesce(earlier_passes, cell.passes) AS passes,
            coalesce(earlier_focus_offset_mm, cell.focus_offset_mm) AS focus_offset_mm,
            coalesce(earlier_line_interval_mm, cell.line_interval_mm) AS line_interval_mm,
            recommendation.reason, recommendation.confidence,
            recommendation.interval_quantity, recommendation.interval_value,
            recommendation.interval_low, recommendation.interval_high
        FROM recommendation LEFT JOIN cell ON {CellOfRecommendation}
        WHERE recommendation.reading_id IN ({string.Join(", ", ids.Prepend(0))}) ORDER BY recommendation.position
        """, row => (Id: row.Long("reading_id"), Entry: Recommended(row))).ToLookup(row => row.Id, row => row.Entry);

    /// <summary>The cell that backs a recommendation, where it is the reading's own.</summary>
    public const string CellOfRecommendation = """
        cell.reading_id = recommendation.reading_id
            AND cell.row = recommendation.cell_row AND cell."column" = recommendation.cell_column
            AND recommendation.earlier_card IS NULL
        """;

    private static RecommendationEntry Recommended(StoredRow row) => new()
    {
        Goal = row.Text("goal"),
        PowerPercent = row.Real("power_percent"),
        SpeedMmPerMin = row.Real("speed_mm_per_min"),
        Card = row.IntOrNull("earlier_card"),
        Passes = row.IntOrNull("passes"),
        FocusOffsetMm = row.RealOrNull("focus_offset_mm"),
        LineIntervalMm = row.RealOrNull("line_interval_mm"),
        Reason = row.Text("reason"),
        Confidence = row.RealOrNull("confidence"),
        Interval = row.TextOrNull("interval_quantity") is { } quantity && row.RealOrNull("interval_value") is { } value
            && row.RealOrNull("interval_low") is { } low && row.RealOrNull("interval_high") is { } high
            ? new(quantity, value, low, high)
            : null,
    };

    private ValueList<PhotoEntry> Photos(long id) => database.Query(
        """
        SELECT file_name, light, photo_sha256, kept_sha256, kept.extension AS kept_extension,
            annotated_sha256, annotated.extension AS annotated_extension
        FROM photo LEFT JOIN file AS kept ON kept.sha256 = kept_sha256 LEFT JOIN file AS annotated ON annotated.sha256 = annotated_sha256
        WHERE reading_id = @id ORDER BY position
        """,
        row => new PhotoEntry(
            row.Text("file_name"), row.Text("photo_sha256"), StoredValue.Value<Light>(row.Text("light")),
            PathOf(row.TextOrNull("kept_sha256"), row.TextOrNull("kept_extension")),
            PathOf(row.TextOrNull("annotated_sha256"), row.TextOrNull("annotated_extension"))), ("id", id)).ToValueList();

    private string? PathOf(string? sha256, string? extension) =>
        sha256 is null || extension is null ? null : files?.PathOf(sha256, extension);
}
