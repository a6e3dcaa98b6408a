using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Everything of one archive put into another that is empty, of the same or the other kind: every row with its own id, so that r12 stays
/// r12, and every file. Runs inside a transaction of its caller on each side.
/// </summary>
internal sealed class Transfer(Database from, FileStore fromFiles, Database to, FileStore toFiles)
{
    /// <summary>Rows of so many ids are in memory at once: a reading's text takes some kilobytes.</summary>
    private const long Step = 200;

    private const string StandsFor = "stands_for";

    /// <summary>Each table after those that it refers to, with the column that its rows are fetched by.</summary>
    private static readonly (string Table, string Key)[] s_tables =
    [
        ("machine", "id"), ("material", "id"), ("batch", "id"), ("card", "id"), ("reading", "id"), ("photo", "reading_id"),
        ("recommendation", "reading_id"), ("cell", "reading_id"), ("note", "id"), ("tag", "id"), ("phone", "id"),
        ("tone_series", "phone_id"), ("need", "reading_id"), ("machine_change", "id"),
        ("member", "id"), ("member_device", "id"), ("invitation", "id"), ("deed", "id"),
    ];

    /// <summary>Copies.</summary>
    /// <param name="staging">Where files wait until they are whole.</param>
    /// <returns>What was copied; or why nothing was.</returns>
    public Outcome<CopiedArchive> Run(Staging staging)
    {
        foreach (string table in s_tables.Select(each => each.Table))
            if (CountOf(to, table) > 0) return Refusal.OfInput(Codes.CopyNotEmpty);
        if (CopyFiles(staging) is { } refusal) return refusal;
        foreach ((string table, string key) in s_tables) CopyTable(table, key);
        SearchIndex.Rebuild(to);
        return new CopiedArchive((int)CountOf(to, "card"), (int)CountOf(to, "reading"), (int)CountOf(to, "file"));
    }

    private static long CountOf(Database database, string table) => database.Count($"SELECT count(*) FROM {table}");

    private void CopyTable(string table, string key)
    {
        long last = from.Count($"SELECT max({key}) FROM {table}");
        for (long start = 0; start < last; start += Step)
        {
            List<(string Column, object? Value)[]> rows = from.Query(
                $"SELECT * FROM {table} WHERE {key} > @start AND {key} <= @end ORDER BY {key}", row => row.All(),
                ("start", start), ("end", start + Step));
            Put(table, rows);
        }

        foreach ((long id, long target) in NamesFor(table))
            to.Execute($"UPDATE {table} SET {StandsFor} = @target WHERE id = @id", ("id", id), ("target", target));
        if (key == "id") to.CountIdsOnFrom(table, last);
    }

    private void Put(string table, List<(string Column, object? Value)[]> rows)
    {
        if (rows.Count == 0) return;
        using RowWriter writer = new(to, table, [.. rows[0].Select(cell => cell.Column)]);
        // A name may stand for one that comes after it.
        foreach ((string Column, object? Value)[] row in rows)
            writer.Put([.. row.Select(cell => cell.Column == StandsFor ? null : cell.Value)]);
    }

    private List<(long Id, long Target)> NamesFor(string table) => table is not ("machine" or "material" or "batch")
        ? []
        : from.Query(
            $"SELECT id, {StandsFor} FROM {table} WHERE {StandsFor} IS NOT NULL", row => (row.Long("id"), row.Long(StandsFor)));

    private Refusal? CopyFiles(Staging staging)
    {
        List<(string Sha256, string Extension, long Size, string Kept)> files = from.Query(
            "SELECT sha256, extension, size_bytes, kept_utc FROM file ORDER BY sha256",
            row => (row.Text("sha256"), row.Text("extension"), row.Long("size_bytes"), row.Text("kept_utc")));
        using RowWriter writer = new(to, "file", "sha256", "extension", "size_bytes", "kept_utc");
        foreach ((string sha256, string extension, long size, string kept) in files)
        {
            if (Copy(staging, sha256, extension) is { } refusal) return refusal;
            writer.Put(sha256, extension, size, kept);
        }

        return null;
    }

    private Refusal? Copy(Staging staging, string sha256, string extension)
    {
        string source = fromFiles.PathOf(sha256, extension);
        StagedFile staged = staging.Of(sha256, extension);
        using (Stream? read = fromFiles.Open(sha256, extension))
        {
            if (read is null) return Refusal.OfPlace(Codes.ArchiveFileGone, ("file", source));
            using FileStream written = staged.Begin();
            if (HashedCopy.Run(read, written) != sha256) return Refusal.OfPlace(Codes.ArchiveFileDamaged, ("file", source));
            written.Flush(flushToDisk: true);
        }

        toFiles.Send(staged);
        toFiles.Keep(staged);
        Durable.Discard(staged.Temporary);
        return null;
    }
}
