using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Cards that may have been burned like another: those whose plans agree in what the tables hold. Names compare trimmed,
/// without case.
/// </summary>
internal sealed class LikeCardFinder(Database database)
{
    /// <summary>The cards, newest reading first.</summary>
    /// <param name="plan">The plan of the card that they are to be like.</param>
    /// <param name="beforeReading">Only cards that had a reading before the one of this id.</param>
    /// <param name="most">How many are given at most.</param>
    public ValueList<LikeCard> Find(Plan plan, long beforeReading, int most)
    {
        string materials = Ids("SELECT id, name FROM material", plan.Material.Name);
        string machines = Ids(
            "SELECT id, name FROM machine WHERE rated_optical_watts = @watts",
            plan.Machine.Name, ("watts", plan.Machine.RatedOpticalWatts));
        string batch = string.IsNullOrWhiteSpace(plan.Material.Batch)
            ? "batch_id IS NULL"
            : $"batch_id IN ({Ids($"SELECT id, name FROM batch WHERE material_id IN ({materials})", plan.Material.Batch)})";
        string thickness = plan.Material.ThicknessMm is null
            ? "thickness_mm IS NULL"
            : $"abs(thickness_mm - @thickness) <= {CardFinder.ThicknessToleranceMm}";
        return database.Query(
            $"""
            SELECT card.id, card.number, newest.id AS newest, first.read_utc AS first_read
            FROM card
            JOIN reading AS newest ON newest.id = (SELECT max(id) FROM reading WHERE card_id = card.id AND is_current = 1)
            JOIN reading AS first ON first.id = (SELECT min(id) FROM reading WHERE card_id = card.id)
            WHERE card.material_id IN ({materials}) AND card.machine_id IN ({machines})
                AND card.process = @process AND card.{batch} AND {thickness}
                AND card.number <> @number AND first.id < @beforeReading
            ORDER BY newest.id DESC LIMIT @most
            """,
            row => new LikeCard(row.Long("id"), row.Int("number"), row.Long("newest"), Database.Time(row.Text("first_read"))),
            ("process", EnumName.Of(plan.Process)), ("thickness", plan.Material.ThicknessMm), ("number", plan.Number),
            ("beforeReading", beforeReading), ("most", most)).ToValueList();
    }

    /// <summary>
    /// Ids of the rows with a name, and one that no row has. The databases compare letters beyond ASCII by their case, so names are
    /// compared here.
    /// </summary>
    private string Ids(string rows, string name, params ReadOnlySpan<(string Name, object? Value)> values) => string.Join(
        ", ",
        database.Query(rows, row => (Id: row.Long("id"), Name: row.Text("name")), values)
            .Where(row => MakerName.AreSame(row.Name, name)).Select(row => row.Id).Prepend(0));
}
