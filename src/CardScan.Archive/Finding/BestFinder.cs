using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>
/// For every machine, material, thickness and process the newest setting for each goal, with what the other readings say.
/// </summary>
internal sealed class BestFinder(SqliteConnection connection)
{
    /// <summary>The newest settings, by material.</summary>
    public ValueList<BestSetting> Find(ArchiveQuery query)
    {
        CardFinder cards = new(connection);
        (string asked, (string Name, object? Value)[] values) = CardFinder.Where(query);
        // Newest first, so that the first row of a group is the one that counts.
        IEnumerable<SettingRow> rows = connection.Query(
            $"""
            SELECT recommendation.goal, recommendation.power_percent, recommendation.speed_mm_per_min,
                ifnull(earlier_passes, cell.passes) AS passes,
                ifnull(earlier_line_interval_mm, cell.line_interval_mm) AS line_interval_mm,
                recommendation.reading_id, reading.read_utc, reading.card_id,
                card.material_id, card.machine_id, card.thickness_mm, card.process
            {ReadingFinder.RecommendationTables}
            JOIN reading ON reading.id = recommendation.reading_id JOIN card ON card.id = reading.card_id
            WHERE reading.is_current = 1 AND card.id IN (SELECT card.id FROM card{asked}) ORDER BY reading.read_utc DESC, reading.id DESC
            """, SettingRow.Of, values);
        return rows.GroupBy(row => (row.MaterialId, row.MachineId, Thickness: Math.Round(row.ThicknessMm ?? -1, 2), row.Process, row.Goal))
            .Select(group => Best(Alike([.. group]), cards))
            .OrderBy(best => best.Card.Material, StringComparer.OrdinalIgnoreCase).ThenBy(best => best.Card.ThicknessMm)
            .ThenBy(best => best.Card.Machine, StringComparer.OrdinalIgnoreCase)
            .ThenBy(best => best.Card.Process).ToValueList();
    }

    /// <summary>The newest and those that can be held against it: twice the passes at half the power is no other opinion.</summary>
    private static SettingRow[] Alike(SettingRow[] group) =>
        [.. group.Where(row => row.Passes == group[0].Passes && row.LineIntervalMm == group[0].LineIntervalMm)];

    private BestSetting Best(SettingRow[] group, CardFinder cards) => new()
    {
        Card = cards.Card(group[0].CardId),
        ReadingId = group[0].ReadingId,
        ReadUtc = Database.Time(group[0].Read),
        Recommendation = new ReadingFinder(connection, files: null).Recommendations(group[0].ReadingId)
            .First(recommendation => recommendation.Goal == group[0].Goal),
        Readings = group.Length,
        SpeedMmPerMin = (group.Min(row => row.SpeedMmPerMin), group.Max(row => row.SpeedMmPerMin)),
        PowerPercent = (group.Min(row => row.PowerPercent), group.Max(row => row.PowerPercent)),
    };

    private sealed record SettingRow
    {
        public required string Goal { get; init; }

        public required double PowerPercent { get; init; }

        public required double SpeedMmPerMin { get; init; }

        public required int? Passes { get; init; }

        public required double? LineIntervalMm { get; init; }

        public required long ReadingId { get; init; }

        public required string Read { get; init; }

        public required long CardId { get; init; }

        public required long MaterialId { get; init; }

        public required long MachineId { get; init; }

        public required double? ThicknessMm { get; init; }

        public required string Process { get; init; }

        public static SettingRow Of(StoredRow row) => new()
        {
            Goal = row.Text("goal"),
            PowerPercent = row.Real("power_percent"),
            SpeedMmPerMin = row.Real("speed_mm_per_min"),
            Passes = row.IntOrNull("passes"),
            LineIntervalMm = row.RealOrNull("line_interval_mm"),
            ReadingId = row.Long("reading_id"),
            Read = row.Text("read_utc"),
            CardId = row.Long("card_id"),
            MaterialId = row.Long("material_id"),
            MachineId = row.Long("machine_id"),
            ThicknessMm = row.RealOrNull("thickness_mm"),
            Process = row.Text("process"),
        };
    }
}
