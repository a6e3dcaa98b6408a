using CardScan.Model;

namespace CardScan.Archive;

/// <summary>What has a setting of its own, as far as the tables tell without looking at all of its cards.</summary>
/// <param name="Material">Where the material is kept under at last.</param>
/// <param name="Machine">Where the machine is.</param>
/// <param name="Name">The name that the material is kept under.</param>
/// <param name="ThicknessMm">Thickness, mm, to 0.01 mm; null where the plan does not tell.</param>
/// <param name="Watts">The machine's optical power, W.</param>
/// <param name="Process">Engrave or cut.</param>
/// <param name="Goal">The goal; null of a reading that recommends nothing.</param>
internal sealed record SettingKind(
    long Material, long Machine, string Name, double? ThicknessMm, double Watts, string Process, string? Goal)
{
    /// <summary>The materials and machines of all cards that answer a query, each material with each machine.</summary>
    public static IReadOnlyList<(long Material, long Machine)> All(Database database, ArchiveQuery query)
    {
        (string where, (string Name, object? Value)[] values) = new CardFinder(database).Where(query);
        List<(long Material, long Machine)> used = database.Query(
            $"""
            SELECT DISTINCT material.root AS material, machine.root AS machine
            FROM (SELECT DISTINCT material_id, machine_id FROM card{where}) AS used
            JOIN material_kept AS material ON material.id = used.material_id
            JOIN machine_kept AS machine ON machine.id = used.machine_id
            """, row => (row.Long("material"), row.Long("machine")), values);
        long[] machines = [.. used.Select(pair => pair.Machine).Distinct()];
        return [.. used.Select(pair => pair.Material).Distinct().SelectMany(material => machines.Select(machine => (material, machine)))];
    }

    /// <summary>What the newest current readings of cards that answer a query have settings of, newest first.</summary>
    /// <returns>One row for each goal of each reading; and whether there are no older readings.</returns>
    public static (List<SettingKind> Kinds, bool AreAll) Newest(Database database, ArchiveQuery query, int readings)
    {
        (string where, (string Name, object? Value)[] values) = new CardFinder(database).Where(query);
        List<(long Reading, SettingKind Kind)> rows = database.Query(
            $"""
            SELECT newest.id, material.root AS material, machine.root AS machine, material.name, card.thickness_mm,
                machine.rated_optical_watts, card.process, recommendation.goal
            FROM (SELECT reading.id, reading.card_id, reading.read_utc FROM reading JOIN card ON card.id = reading.card_id
                {(where.Length == 0 ? "WHERE" : $"{where} AND")} reading.is_current = 1
                ORDER BY reading.read_utc DESC, reading.id DESC LIMIT @readings) AS newest
            JOIN card ON card.id = newest.card_id
            JOIN material_kept AS material ON material.id = card.material_id
            JOIN machine_kept AS machine ON machine.id = card.machine_id
            LEFT JOIN recommendation ON recommendation.reading_id = newest.id
            ORDER BY newest.read_utc DESC, newest.id DESC, recommendation.position
            """, row => (row.Long("id"), Stored(row)), [.. values, ("readings", readings)]);
        return ([.. rows.Select(row => row.Kind)], rows.DistinctBy(row => row.Reading).Count() < readings);
    }

    private static SettingKind Stored(StoredRow row) => new(
        row.Long("material"), row.Long("machine"), row.Text("name"),
        row.RealOrNull("thickness_mm") is { } mm ? Math.Round(mm, 2) : null,
        row.Real("rated_optical_watts"), row.Text("process"), row.TextOrNull("goal"));
}
