using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Cards with their plans. Every method runs inside a transaction of its caller.</summary>
internal sealed class CardKeeper(Database database, TimeProvider clock)
{
    /// <summary>Keeps a card by its plan; a plan that is known already is its card's.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="planJson">The bytes of its file.</param>
    /// <param name="keptUtc">When it was kept elsewhere; null for now.</param>
    /// <param name="closedUtc">When it was closed elsewhere; null where it is open.</param>
    public KeptCard Keep(PlanFile plan, ReadOnlySpan<byte> planJson, string? keptUtc = null, string? closedUtc = null)
    {
        if (database.Number("SELECT id FROM card WHERE plan_sha256 = @sha256", ("sha256", plan.Sha256)) is { } known)
            return new(known, plan.Plan.Number, IsNew: false);
        (Material material, Machine machine) = (plan.Plan.Material, plan.Plan.Machine);
        long materialId = IdOf(
            "INSERT INTO material (name) VALUES (@name) ON CONFLICT DO NOTHING",
            "SELECT id FROM material WHERE name = @name",
            ("name", material.Name));
        long machineId = IdOf(
            "INSERT INTO machine (name, rated_optical_watts) VALUES (@name, @watts) ON CONFLICT DO NOTHING",
            "SELECT id FROM machine WHERE name = @name AND rated_optical_watts = @watts",
            ("name", machine.Name), ("watts", machine.RatedOpticalWatts));
        long? batchId = string.IsNullOrWhiteSpace(material.Batch) ? null : IdOf(
            "INSERT INTO batch (material_id, name) VALUES (@materialId, @name) ON CONFLICT DO NOTHING",
            "SELECT id FROM batch WHERE material_id = @materialId AND name = @name",
            ("materialId", materialId), ("name", material.Batch));
        long id = database.Count(
            """
            INSERT INTO card (
                number, plan_sha256, plan, title, process, material_id, thickness_mm, batch_id, machine_id, kept_utc, closed_utc,
                wavelength_nm, beam_x_mm, beam_y_mm, beam_mode, air_is_on, air_pressure)
            VALUES (@number, @sha256, @packed, @title, @process, @materialId, @thicknessMm, @batchId, @machineId, @kept, @closedUtc,
                @wavelengthNm, @beamXMm, @beamYMm, @beamMode, @airIsOn, @airPressure)
            RETURNING id
            """,
            ("number", plan.Plan.Number), ("sha256", plan.Sha256), ("packed", Packed.Of(planJson)), ("title", plan.Plan.Title),
            ("process", EnumName.Of(plan.Plan.Process)), ("materialId", materialId), ("thicknessMm", material.ThicknessMm),
            ("batchId", batchId), ("machineId", machineId),
            ("kept", keptUtc ?? Database.Text(clock.GetUtcNow())), ("closedUtc", closedUtc),
            ("wavelengthNm", machine.WavelengthNm), ("beamXMm", machine.BeamXMm), ("beamYMm", machine.BeamYMm),
            ("beamMode", EnumName.Of(machine.BeamMode)),
            ("airIsOn", plan.Plan.Fixed.AirAssist?.IsOn), ("airPressure", plan.Plan.Fixed.AirAssist?.Pressure));
        SearchIndex.Refresh(database, id);
        return new(id, plan.Plan.Number, IsNew: true);
    }

    /// <summary>
    /// A number for a new card: one that was never used, else the one whose last card was closed first; null where every
    /// number has an open card.
    /// </summary>
    public int? NextNumber()
    {
        HashSet<int> used = [.. database.Query("SELECT DISTINCT number FROM card", row => row.Int("number"))];
        int free = Enumerable.Range(0, Plan.Numbers).FirstOrDefault(number => !used.Contains(number), -1);
        return free >= 0 ? free : (int?)database.Number(
            "SELECT number FROM card GROUP BY number HAVING count(*) = count(closed_utc) ORDER BY max(closed_utc) LIMIT 1");
    }

    /// <summary>Removes a card that has no readings (any more).</summary>
    public void Remove(long cardId)
    {
        SearchIndex.Remove(database, cardId);
        database.Execute("DELETE FROM card WHERE id = @id", ("id", cardId));
    }

    /// <summary>The plans of cards.</summary>
    public Dictionary<long, Plan> Plans(IEnumerable<long> cardIds) => database.Query(
        $"SELECT id, plan FROM card WHERE id IN ({string.Join(", ", cardIds.Prepend(0))})",
        row => (Id: row.Long("id"), Plan: CardJson.ReadPlan(Packed.Open(row.Bytes("plan"))).Value.Plan))
        .ToDictionary(row => row.Id, row => row.Plan);

    /// <summary>The bytes of a card's plan.</summary>
    public byte[] PlanJson(long cardId) =>
        Packed.Open(database.Single("SELECT plan FROM card WHERE id = @id", row => row.Bytes("plan"), ("id", cardId)));

    private long IdOf(string insert, string select, params ReadOnlySpan<(string Name, object? Value)> values)
    {
        database.Execute(insert, values);
        return database.Count(select, values);
    }
}
