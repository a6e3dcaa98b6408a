using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Checks everything: the database's pages, every reference, every file's hash, every text against its hash and its rows.
/// </summary>
internal sealed class ArchiveCheck(Database database, FileStore files)
{
    private int _files;
    private int _readings;

    /// <summary>Runs the check.</summary>
    public ArchiveHealth Run()
    {
        List<string> faults = [.. database.Faults().Select(line => Voice.Say("archive.check.database", ("line", line)))];
        // What a damaged database tells of its rows is not to be relied on.
        if (faults.Count == 0) faults.AddRange([.. database.LostReferences(), .. PlanFaults(), .. ReadingFaults(), .. FileFaults()]);
        return new(faults.ToValueList(), _files, _readings, faults.Count == 0 ? Leftovers().ToValueList() : []);
    }

    /// <summary>Files of the store that no row knows, and those that were never placed.</summary>
    /// <param name="settled">Of the latter only those that nobody has written to since; null for all.</param>
    public IEnumerable<string> Leftovers(DateTime? settled = null) => files.Standing()
        .Where(file => !IsKnown(file.Sha256, file.Extension, file.Path)).Select(file => file.Path).Concat(files.Unplaced(settled));

    private bool IsKnown(string sha256, string extension, string path) =>
        database.Count(
            "SELECT count(*) FROM file WHERE sha256 = @sha256 AND extension = @extension", ("sha256", sha256), ("extension", extension)) > 0
        && files.PathOf(sha256, extension) == path;

    private IEnumerable<string> PlanFaults()
    {
        foreach ((long id, string sha256, byte[] packed) in Texts("card", "plan"))
        {
            if (!IsText(packed, sha256, json => !CardJson.ReadPlan(json).IsRefused))
                yield return Voice.Say("archive.check.plan", ("card", CardEntry.NameOf(id)));
        }
    }

    /// <summary>One at a time: all of them need not fit into memory.</summary>
    private IEnumerable<(long Id, string Sha256, byte[] Packed)> Texts(string table, string column)
    {
        foreach (long id in database.Query($"SELECT id FROM {table} ORDER BY id", row => row.Long("id")))
        {
            (string sha256, byte[] packed) = database.Single(
                $"SELECT {column}_sha256 AS sha256, {column} AS packed FROM {table} WHERE id = @id",
                row => (row.Text("sha256"), row.Bytes("packed")), ("id", id));
            yield return (id, sha256, packed);
        }
    }

    private IEnumerable<string> ReadingFaults()
    {
        foreach ((long id, string sha256, byte[] packed) in Texts("reading", "reading"))
        {
            _readings++;
            Reading? reading = null;
            bool isText = IsText(packed, sha256, json =>
            {
                Outcome<Reading> read = CardJson.ReadReading(json);
                reading = read.IsRefused ? null : read.Value;
                return !read.IsRefused;
            });
            if (!isText || reading is null) yield return Voice.Say("archive.check.reading", ("reading", ReadingEntry.NameOf(id)));
            else if (!HasItsRows(id, reading)) yield return Voice.Say("archive.check.rows", ("reading", ReadingEntry.NameOf(id)));
        }
    }

    private bool HasItsRows(long id, Reading reading) =>
        database.Single(
            """
            SELECT (SELECT count(*) FROM cell WHERE reading_id = @id) AS cells,
                (SELECT count(*) FROM photo WHERE reading_id = @id) AS photos,
                (SELECT count(*) FROM recommendation WHERE reading_id = @id) AS recommendations
            """, row => (row.Int("cells"), row.Int("photos"), row.Int("recommendations")), ("id", id))
            == (reading.Cells.Count, reading.Photos.Count, reading.Recommendations.Count);

    private IEnumerable<string> FileFaults()
    {
        List<(string, string)> rows = database.Query(
            "SELECT sha256, extension FROM file", row => (row.Text("sha256"), row.Text("extension")));
        foreach ((string sha256, string extension) in rows)
        {
            _files++;
            string path = files.PathOf(sha256, extension);
            bool? isSound = files.IsSound(sha256, extension);
            if (isSound is null) yield return Voice.Say("archive.check.file-missing", ("file", path));
            else if (isSound == false) yield return Voice.Say("archive.check.file-changed", ("file", path));
        }
    }

    private static bool IsText(byte[] packed, string sha256, Func<byte[], bool> isReadable)
    {
        try
        {
            byte[] json = Packed.Open(packed);
            return CardJson.Sha256(json) == sha256 && isReadable(json);
        }
        catch (InvalidDataException)
        {
            return false;
        }
    }
}
