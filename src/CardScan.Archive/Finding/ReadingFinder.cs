using CardScan.Model;
using Dapper;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>Readings and what belongs to them.</summary>
/// <param name="connection">The database.</param>
/// <param name="files">Gives kept files their paths; null where no path is asked for.</param>
internal sealed class ReadingFinder(SqliteConnection connection, FileStore? files)
{
    /// <summary>The readings of a card, newest first.</summary>
    public ValueList<ReadingEntry> OfCard(long cardId) =>
        connection.Query<long>("SELECT id FROM reading WHERE card_id = $cardId ORDER BY id DESC", new { cardId })
            .Select(Entry).ToValueList();

    /// <summary>One reading's entry.</summary>
    public ReadingEntry Entry(long id)
    {
        ReadingRow row = connection.QuerySingle<ReadingRow>(
            """
            SELECT card_id AS CardId, read_utc AS Read, is_current AS IsCurrent, report_sha256 AS Report, file.extension AS Extension
            FROM reading LEFT JOIN file ON file.sha256 = reading.report_sha256 WHERE id = $id
            """, new { id });
        return new()
        {
            Id = id,
            CardId = row.CardId,
            ReadUtc = Database.Time(row.Read),
            IsCurrent = row.IsCurrent,
            ReportPath = PathOf(row.Report, row.Extension),
            Photos = Photos(id),
            Recommendations = Recommendations(id),
        };
    }

    /// <summary>The newest current reading that keeps a photo; null where none does.</summary>
    public long? OfPhoto(string sha256) => connection.ExecuteScalar<long?>(
        "SELECT max(reading.id) FROM photo JOIN reading ON reading.id = reading_id WHERE kept_sha256 = $sha256 AND is_current = 1",
        new { sha256 });

    /// <summary>The bytes of a reading's file.</summary>
    public byte[] Json(long id) => Packed.Open(connection.QuerySingle<byte[]>("SELECT reading FROM reading WHERE id = $id", new { id }));

    /// <summary>The recommendations of a reading, in its order.</summary>
    public ValueList<RecommendationEntry> Recommendations(long id) => connection.Query<RecommendationRow>(
        $"{RecommendationRow.Columns} {RecommendationRow.Tables} WHERE recommendation.reading_id = $id ORDER BY recommendation.position",
        new { id }).Select(row => row.Entry).ToValueList();

    private ValueList<PhotoEntry> Photos(long id) => connection.Query<PhotoRow>(
        """
        SELECT file_name AS FileName, light AS Light, photo_sha256 AS Sha256, kept_sha256 AS Kept, kept.extension AS KeptExtension,
            annotated_sha256 AS Annotated, annotated.extension AS AnnotatedExtension
        FROM photo LEFT JOIN file AS kept ON kept.sha256 = kept_sha256 LEFT JOIN file AS annotated ON annotated.sha256 = annotated_sha256
        WHERE reading_id = $id ORDER BY position
        """, new { id })
        .Select(row => new PhotoEntry(
            row.FileName, row.Sha256, StoredValue.Value<Light>(row.Light),
            PathOf(row.Kept, row.KeptExtension), PathOf(row.Annotated, row.AnnotatedExtension))).ToValueList();

    private string? PathOf(string? sha256, string? extension) =>
        sha256 is null || extension is null ? null : files?.PathOf(sha256, extension);

    private sealed record ReadingRow
    {
        public long CardId { get; init; }

        public string Read { get; init; } = "";

        public bool IsCurrent { get; init; }

        public string? Report { get; init; }

        public string? Extension { get; init; }
    }

    private sealed record PhotoRow
    {
        public string FileName { get; init; } = "";

        public string Light { get; init; } = "";

        public string Sha256 { get; init; } = "";

        public string? Kept { get; init; }

        public string? KeptExtension { get; init; }

        public string? Annotated { get; init; }

        public string? AnnotatedExtension { get; init; }
    }
}

/// <summary>A row of the recommendations.</summary>
internal sealed record RecommendationRow
{
    /// <summary>The columns, named as the properties are.</summary>
    public const string Columns = """
        SELECT recommendation.goal AS Goal, recommendation.power_percent AS PowerPercent, recommendation.speed_mm_per_min AS SpeedMmPerMin,
            recommendation.earlier_card AS Card, ifnull(earlier_passes, cell.passes) AS Passes,
            ifnull(earlier_focus_offset_mm, cell.focus_offset_mm) AS FocusOffsetMm,
            ifnull(earlier_line_interval_mm, cell.line_interval_mm) AS LineIntervalMm,
            recommendation.reason AS Reason, recommendation.confidence AS Confidence,
            recommendation.interval_quantity AS Quantity, recommendation.interval_value AS IntervalValue,
            recommendation.interval_low AS Low, recommendation.interval_high AS High
        """;

    /// <summary>Recommendations with the cells that back them, where those are the reading's own.</summary>
    public const string Tables = """
        FROM recommendation
        LEFT JOIN cell ON cell.reading_id = recommendation.reading_id
            AND cell.row = recommendation.cell_row AND cell."column" = recommendation.cell_column
            AND recommendation.earlier_card IS NULL
        """;

    public string Goal { get; init; } = "";

    public double PowerPercent { get; init; }

    public double SpeedMmPerMin { get; init; }

    public int? Card { get; init; }

    public int? Passes { get; init; }

    public double? FocusOffsetMm { get; init; }

    public double? LineIntervalMm { get; init; }

    public string Reason { get; init; } = "";

    public double? Confidence { get; init; }

    public string? Quantity { get; init; }

    public double? IntervalValue { get; init; }

    public double? Low { get; init; }

    public double? High { get; init; }

    public RecommendationEntry Entry => new()
    {
        Goal = Goal,
        PowerPercent = PowerPercent,
        SpeedMmPerMin = SpeedMmPerMin,
        Card = Card,
        Passes = Passes,
        FocusOffsetMm = FocusOffsetMm,
        LineIntervalMm = LineIntervalMm,
        Reason = Reason,
        Confidence = Confidence,
        Interval = Quantity is { } quantity && IntervalValue is { } value && Low is { } low && High is { } high
            ? new(quantity, value, low, high)
            : null,
    };
}
