using CardScan.Language;
using CardScan.Model;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>
/// Checks everything: the database's pages, every reference, every file's hash, every text against its hash and its rows.
/// </summary>
internal sealed class ArchiveCheck(SqliteConnection connection, FileStore files)
{
    /// <summary>SQLite's own check names every page; the first ones tell enough.</summary>
    private const int MostPageFaults = 20;

    private int _files;
    private int _readings;

    /// <summary>Runs the check.</summary>
    public ArchiveHealth Run()
    {
        List<string> faults = [.. connection
            .Query($"PRAGMA integrity_check({MostPageFaults})", row => row.Text("integrity_check")).Where(line => line != "ok")
            .Select(line => Voice.Say("archive.check.database", ("line", line)))];
        // What a damaged database tells of its rows is not to be relied on.
        if (faults.Count == 0) faults.AddRange([.. ReferenceFaults(), .. PlanFaults(), .. ReadingFaults(), .. FileFaults()]);
        return new(faults.ToValueList(), _files, _readings, faults.Count == 0 ? Leftovers().ToValueList() : []);
    }

    /// <summary>Files of the store that no row knows, and those that are still under a temporary name.</summary>
    public IEnumerable<string> Leftovers()
    {
        IEnumerable<string> incoming = Directory.Exists(files.Incoming) ? Directory.EnumerateFiles(files.Incoming) : [];
        return files.Standing().Where(file => !IsKnown(file.Sha256, file.Extension, file.Path)).Select(file => file.Path).Concat(incoming);
    }

    private bool IsKnown(string sha256, string extension, string path) =>
        connection.Count(
            "SELECT count(*) FROM file WHERE sha256 = $sha256 AND extension = $extension", ("sha256", sha256), ("extension", extension)) > 0
        && files.PathOf(sha256, extension) == path;

    private List<string> ReferenceFaults() =>
        connection.Query("PRAGMA foreign_key_check", row => Voice.Say(
            "archive.check.reference",
            ("row", $"{row.LongOrNull("rowid")}"), ("table", row.Text("table")), ("parent", row.Text("parent"))));

    private IEnumerable<string> PlanFaults() => connection
        .Each(
            "SELECT id, plan_sha256, plan FROM card",
            row => (Id: row.Long("id"), Sha256: row.Text("plan_sha256"), Plan: row.Bytes("plan")))
        .Where(card => !IsText(card.Plan, card.Sha256, json => !CardJson.ReadPlan(json).IsRefused))
        .Select(card => Voice.Say("archive.check.plan", ("card", CardEntry.NameOf(card.Id))));

    private IEnumerable<string> ReadingFaults()
    {
        IEnumerable<(long, string, byte[])> rows = connection.Each(
            "SELECT id, reading_sha256, reading FROM reading",
            row => (row.Long("id"), row.Text("reading_sha256"), row.Bytes("reading")));
        foreach ((long id, string sha256, byte[] packed) in rows)
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
        connection.Single(
            """
            SELECT (SELECT count(*) FROM cell WHERE reading_id = $id) AS cells,
                (SELECT count(*) FROM photo WHERE reading_id = $id) AS photos,
                (SELECT count(*) FROM recommendation WHERE reading_id = $id) AS recommendations
            """, row => (row.Int("cells"), row.Int("photos"), row.Int("recommendations")), ("id", id))
            == (reading.Cells.Count, reading.Photos.Count, reading.Recommendations.Count);

    private IEnumerable<string> FileFaults()
    {
        IEnumerable<(string, string)> rows = connection.Each(
            "SELECT sha256, extension FROM file", row => (row.Text("sha256"), row.Text("extension")));
        foreach ((string sha256, string extension) in rows)
        {
            _files++;
            string path = files.PathOf(sha256, extension);
            if (!File.Exists(path)) yield return Voice.Say("archive.check.file-missing", ("file", path));
            else if (!files.IsSound(sha256, extension)) yield return Voice.Say("archive.check.file-changed", ("file", path));
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
