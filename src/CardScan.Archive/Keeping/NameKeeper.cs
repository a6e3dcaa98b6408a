using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Names that stand for others. The cards keep the names of their plans, so that every change can be taken back, and a card that
/// comes later under an old name follows it.
/// </summary>
internal sealed class NameKeeper(Database database)
{
    /// <summary>Keeps everything of one name under another, together with what is there. Inside a transaction of its caller.</summary>
    public Outcome<KeptName> Rename(NamedKind kind, string old, string newName)
    {
        Outcome<NamedRow[]> named = RowsOf(kind, old);
        if (named.IsRefused) return named.Refusal!;
        NamedRow[] rows = named.Value;
        if (rows.All(row => row.Name == newName)) return Refusal.OfInput(Codes.RenameSame, ("name", newName));
        foreach (NamedRow row in rows)
        {
            long target = TargetOf(kind, row, newName);
            // Where the new name stood for the old one, it is turned round.
            database.Execute(
                $"""
                UPDATE {Table(kind)} SET stands_for = NULL
                WHERE id = @target AND @old = (SELECT root FROM {Table(kind)}_kept WHERE id = @target)
                """, ("target", target), ("old", row.Id));
            database.Execute($"UPDATE {Table(kind)} SET stands_for = @target WHERE id = @old", ("target", target), ("old", row.Id));
        }

        return Told(kind, rows, newName);
    }

    /// <summary>Keeps a name's cards under it again. Inside a transaction of its caller.</summary>
    public Outcome<KeptName> TakeBack(NamedKind kind, string old)
    {
        Outcome<NamedRow[]> named = RowsOf(kind, old);
        if (named.IsRefused) return named.Refusal!;
        NamedRow[] rows = [.. named.Value.Where(row => row.StandsFor is not null)];
        if (rows.Length == 0) return Refusal.OfInput(Codes.RenameNone, ("name", old));
        foreach (NamedRow row in rows) database.Execute($"UPDATE {Table(kind)} SET stands_for = NULL WHERE id = @id", ("id", row.Id));
        return Told(kind, rows, rows[0].Name);
    }

    /// <summary>The names that stand for others.</summary>
    public ValueList<KeptName> All() => Enum.GetValues<NamedKind>()
        .SelectMany(kind => Rows(kind).Where(row => row.StandsFor is not null).GroupBy(row => (Label: LabelOf(row), row.Root))
            .Select(same => new KeptName(
                kind, same.Key.Label,
                database.Single($"SELECT name FROM {Table(kind)} WHERE id = @id", row => row.Text("name"), ("id", same.Key.Root)),
                CardsOf(kind, same)))).ToValueList();

    /// <summary>Names that have one key: the one that most cards are kept under is the usual one.</summary>
    public ValueList<LikeNames> Alike() => Enum.GetValues<NamedKind>().SelectMany(Alike).ToValueList();

    private IEnumerable<LikeNames> Alike(NamedKind kind)
    {
        string within = kind switch { NamedKind.Machine => "kept.rated_optical_watts", NamedKind.Batch => "material.name", _ => "NULL" };
        string material = kind == NamedKind.Batch ? "JOIN material ON material.id = kept.material_root" : "";
        // Cards are counted for the names that are alike alone: of many cards only a few have one.
        (long Root, string Name, object? Within)[] alike = [.. database.Query(
            $"SELECT DISTINCT {within} AS within, kept.root, kept.name FROM {Table(kind)}_kept AS kept {material}",
            row => (Root: row.Long("root"), Name: row.Text("name"), Within: row.First()))
            .GroupBy(each => (each.Within, Key: NameKey.Of(each.Name))).Where(like => like.Count() > 1).SelectMany(like => like)];
        List<(string Name, object? Within, long Cards)> names = alike.Length == 0 ? [] : database.Query(
            $"""
            SELECT {within} AS within, kept.name, count(*) AS cards
            FROM {Table(kind)}_kept AS kept JOIN card ON card.{Table(kind)}_id = kept.id {material}
            WHERE kept.root IN ({string.Join(", ", alike.Select(each => each.Root).Distinct())})
            GROUP BY kept.root, kept.name, within ORDER BY cards DESC, max(card.id) DESC
            """, row => (row.Text("name"), row.First(), row.Long("cards")));
        foreach (var like in names.GroupBy(each => (each.Within, Key: NameKey.Of(each.Name))))
        {
            string usual = like.First().Name;
            foreach (string other in like.Select(each => each.Name).Where(name => name != usual).Distinct(StringComparer.Ordinal))
            {
                yield return kind == NamedKind.Batch
                    ? new(kind, $"{like.Key.Within}/{other}", usual, (string)like.Key.Within!)
                    : new(kind, other, usual);
            }
        }
    }

    /// <summary>The rows of a name: a machine has one for each of its powers.</summary>
    private Outcome<NamedRow[]> RowsOf(NamedKind kind, string name)
    {
        List<NamedRow> all = Rows(kind);
        NamedRow[] exact = [.. all.Where(row => IsNamed(row, name, StringComparison.Ordinal))];
        NamedRow[] rows = exact.Length > 0 ? exact : [.. all.Where(row => IsNamed(row, name, StringComparison.OrdinalIgnoreCase))];
        if (rows.Length == 0)
            return Refusal.OfInput(Codes.RenameUnknown, Figures.Known(
                ("kind", EnumName.Of(kind)), ("name", name), ("near", NearName.FigureOf(name, all.Select(LabelOf).Distinct()))));
        string[] labels = [.. rows.Select(LabelOf).Distinct(StringComparer.Ordinal)];
        return labels.Length == 1
            ? rows
            : Refusal.OfInput(Codes.RenameWhich, ("name", name), ("choices", Figures.List(labels.Select(label => $"\"{label}\""))));
    }

    private static bool IsNamed(NamedRow row, string name, StringComparison comparison) =>
        string.Equals(row.Name, name, comparison) || string.Equals(LabelOf(row), name, comparison);

    private static string LabelOf(NamedRow row) => row.Material is { } material ? $"{material}/{row.Name}" : row.Name;

    private List<NamedRow> Rows(NamedKind kind)
    {
        (string columns, string join) = kind == NamedKind.Batch
            ? ("own.material_id, material.name AS material", "JOIN material ON material.id = own.material_id")
            : ("NULL AS material_id, NULL AS material", "");
        return database.Query(
            $"""
            SELECT own.id, own.name, own.stands_for, kept.root, {columns}
            FROM {Table(kind)} AS own JOIN {Table(kind)}_kept AS kept ON kept.id = own.id {join} ORDER BY own.id
            """,
            row => new NamedRow(row.Long("id"), row.Text("name"), row.LongOrNull("stands_for"), row.Long("root"),
                row.LongOrNull("material_id"), row.TextOrNull("material")));
    }

    /// <summary>The row of the new name: for a machine of the same power, for a batch of the same material.</summary>
    private long TargetOf(NamedKind kind, NamedRow old, string newName)
    {
        (string columns, string values, string where) = kind switch
        {
            NamedKind.Machine => (
                "name, rated_optical_watts", "@name, (SELECT rated_optical_watts FROM machine WHERE id = @old)",
                "name = @name AND rated_optical_watts = (SELECT rated_optical_watts FROM machine WHERE id = @old)"),
            NamedKind.Batch => ("name, material_id", "@name, @material", "name = @name AND material_id = @material"),
            _ => ("name", "@name", "name = @name"),
        };
        database.Execute($"INSERT INTO {Table(kind)} ({columns}) VALUES ({values}) ON CONFLICT DO NOTHING", Values());
        return database.Count($"SELECT id FROM {Table(kind)} WHERE {where}", Values());

        (string, object?)[] Values() => kind switch
        {
            NamedKind.Machine => [("name", newName), ("old", old.Id)],
            NamedKind.Batch => [("name", newName), ("material", old.MaterialId)],
            _ => [("name", newName)],
        };
    }

    private KeptName Told(NamedKind kind, NamedRow[] rows, string newName)
    {
        foreach (NamedRow row in rows) SearchIndex.RefreshNamed(database, Table(kind), row.Id);
        return new(kind, LabelOf(rows[0]), newName, CardsOf(kind, rows));
    }

    private int CardsOf(NamedKind kind, IEnumerable<NamedRow> rows) => (int)rows.Sum(row =>
        database.Count($"SELECT count(*) FROM card WHERE {Table(kind)}_id = @id", ("id", row.Id)));

    private static string Table(NamedKind kind) => EnumName.Of(kind);

    private sealed record NamedRow(long Id, string Name, long? StandsFor, long Root, long? MaterialId, string? Material);
}
