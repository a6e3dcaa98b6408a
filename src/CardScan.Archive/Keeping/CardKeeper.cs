using CardScan.Model;
using Dapper;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>Cards with their plans. Every method runs inside a transaction of its caller.</summary>
internal sealed class CardKeeper(SqliteConnection connection, TimeProvider clock)
{

    /// <summary>Keeps a card by its plan; a plan that is known already is its card's.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="planJson">The bytes of its file.</param>
    /// <param name="keptUtc">When it was kept elsewhere; null for now.</param>
    /// <param name="closedUtc">When it was closed elsewhere; null where it is open.</param>
    public KeptCard Keep(PlanFile plan, ReadOnlySpan<byte> planJson, string? keptUtc = null, string? closedUtc = null)
    {
        if (connection.ExecuteScalar<long?>("SELECT id FROM card WHERE plan_sha256 = $Sha256", new { plan.Sha256 }) is { } known)
            return new(known, plan.Plan.Number, IsNew: false);
        (Material material, Machine machine) = (plan.Plan.Material, plan.Plan.Machine);
        long materialId = IdOf(
            "INSERT INTO material (name) VALUES ($Name) ON CONFLICT DO NOTHING",
            "SELECT id FROM material WHERE name = $Name",
            new { material.Name });
        long machineId = IdOf(
            "INSERT INTO machine (name, rated_optical_watts) VALUES ($Name, $RatedOpticalWatts) ON CONFLICT DO NOTHING",
            "SELECT id FROM machine WHERE name = $Name AND rated_optical_watts = $RatedOpticalWatts",
            new { machine.Name, machine.RatedOpticalWatts });
        long? batchId = string.IsNullOrWhiteSpace(material.Batch) ? null : IdOf(
            "INSERT INTO batch (material_id, name) VALUES ($materialId, $Batch) ON CONFLICT DO NOTHING",
            "SELECT id FROM batch WHERE material_id = $materialId AND name = $Batch",
            new { materialId, material.Batch });
        connection.Execute(
            """
            INSERT INTO card (
                number, plan_sha256, plan, title, process, material_id, thickness_mm, batch_id, machine_id, kept_utc, closed_utc)
            VALUES ($Number, $Sha256, $packed, $Title, $process, $materialId, $ThicknessMm, $batchId, $machineId, $kept, $closedUtc)
            """,
            new
            {
                plan.Plan.Number, plan.Sha256, packed = Packed.Of(planJson), plan.Plan.Title, process = EnumName.Of(plan.Plan.Process),
                materialId, material.ThicknessMm, batchId, machineId,
                kept = keptUtc ?? Database.Text(clock.GetUtcNow()), closedUtc,
            });
        long id = connection.ExecuteScalar<long>("SELECT last_insert_rowid()");
        SearchIndex.Refresh(connection, id);
        return new(id, plan.Plan.Number, IsNew: true);
    }

    /// <summary>
    /// A number for a new card: one that was never used, else the one whose last card was closed first; null where every
    /// number has an open card.
    /// </summary>
    public int? NextNumber()
    {
        HashSet<int> used = [.. connection.Query<int>("SELECT DISTINCT number FROM card")];
        int free = Enumerable.Range(0, Plan.Numbers).FirstOrDefault(number => !used.Contains(number), -1);
        return free >= 0 ? free : connection.ExecuteScalar<int?>(
            "SELECT number FROM card GROUP BY number HAVING count(*) = count(closed_utc) ORDER BY max(closed_utc) LIMIT 1");
    }

    /// <summary>The bytes of a card's plan.</summary>
    public byte[] PlanJson(long cardId) =>
        Packed.Open(connection.QuerySingle<byte[]>("SELECT plan FROM card WHERE id = $cardId", new { cardId }));

    private long IdOf(string insert, string select, object values)
    {
        connection.Execute(insert, values);
        return connection.ExecuteScalar<long>(select, values);
    }
}
