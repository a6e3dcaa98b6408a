using System.Globalization;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// What a person means by a name: <c>r12</c> a reading, <c>c5</c> a card, <c>17</c> the newest card of that number, anything
/// else a batch.
/// </summary>
internal sealed class NameResolver(Database database)
{
    private const string BatchMark = "batch:";

    /// <summary>The thing that is meant, or why none is.</summary>
    public Outcome<ArchiveSubject> Resolve(string name)
    {
        if (name.StartsWith(BatchMark, StringComparison.OrdinalIgnoreCase)) return Batch(name[BatchMark.Length..]);
        if (IsId(name, 'r', out long reading) && Has("reading", reading))
            return new ArchiveSubject(name.ToLowerInvariant(), ReadingId: reading);
        if (IsId(name, 'c', out long card) && Has("card", card)) return new ArchiveSubject(name.ToLowerInvariant(), CardId: card);
        if (int.TryParse(name, NumberStyles.None, CultureInfo.InvariantCulture, out int number) && NewestOf(number) is { } newest)
            return new ArchiveSubject(CardEntry.NameOf(newest), CardId: newest);
        return Batch(name);
    }

    /// <summary>True where a name is a kind's letter and a number, whatever the case.</summary>
    public static bool IsId(string name, char kind, out long id)
    {
        id = 0;
        return name.Length > 1 && char.ToLowerInvariant(name[0]) == kind
            && long.TryParse(name.AsSpan(1), NumberStyles.None, CultureInfo.InvariantCulture, out id);
    }

    private bool Has(string table, long id) =>
        database.Count($"SELECT count(*) FROM {table} WHERE id = @id", ("id", id)) == 1;

    private long? NewestOf(int number) =>
        database.Number(
            "SELECT id FROM card WHERE number = @number ORDER BY closed_utc IS NOT NULL, id DESC LIMIT 1", ("number", number));

    private Outcome<ArchiveSubject> Batch(string name)
    {
        (long Id, string Name, string Material)[] batches = [.. database.Query(
            """
            SELECT min(batch.id) AS id, batch.name, material.name AS material
            FROM batch_kept AS batch JOIN material_kept AS material ON material.id = batch.material_root
            WHERE lower(@name) IN (lower(batch.name), lower(batch.own_name),
                lower(material.name || '/' || batch.name), lower(material.name || '/' || batch.own_name))
            GROUP BY batch.material_root, batch.name, material.name
            """,
            row => (row.Long("id"), row.Text("name"), row.Text("material")), ("name", name))];
        return batches switch
        {
            [var one] => new ArchiveSubject(one.Name, BatchId: one.Id),
            [] => Refusal.OfInput(Codes.ArchiveNoSuch, ("name", name)),
            _ => Refusal.OfInput(Codes.ArchiveWhich,
                ("name", name), ("choices", Figures.List(batches.Select(batch => $"\"{batch.Material}/{batch.Name}\"")))),
        };
    }
}
