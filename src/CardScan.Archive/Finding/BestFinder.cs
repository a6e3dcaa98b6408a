using CardScan.Model;
using Dapper;
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
        DynamicParameters values = new();
        string asked = CardFinder.Where(query, values);
        // Newest first, so that the first row of a group is the one that counts.
        IEnumerable<SettingRow> rows = connection.Query<SettingRow>(
            $"""
            SELECT recommendation.goal AS Goal, recommendation.power_percent AS PowerPercent,
                recommendation.speed_mm_per_min AS SpeedMmPerMin,
                ifnull(earlier_passes, cell.passes) AS Passes, ifnull(earlier_line_interval_mm, cell.line_interval_mm) AS LineIntervalMm,
                reading.id AS ReadingId, reading.read_utc AS Read, card.id AS CardId,
                card.material_id AS MaterialId, card.machine_id AS MachineId, card.thickness_mm AS ThicknessMm, card.process AS Process
            {RecommendationRow.Tables} JOIN reading ON reading.id = recommendation.reading_id JOIN card ON card.id = reading.card_id
            WHERE reading.is_current = 1 AND card.id IN (SELECT card.id FROM card{asked}) ORDER BY reading.read_utc DESC, reading.id DESC
            """, values);
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
        public string Goal { get; init; } = "";

        public double PowerPercent { get; init; }

        public double SpeedMmPerMin { get; init; }

        public int? Passes { get; init; }

        public double? LineIntervalMm { get; init; }

        public long ReadingId { get; init; }

        public string Read { get; init; } = "";

        public long CardId { get; init; }

        public long MaterialId { get; init; }

        public long MachineId { get; init; }

        public double? ThicknessMm { get; init; }

        public string Process { get; init; } = "";
    }
}
