using CardScan.Model;
using Dapper;
using Microsoft.Data.Sqlite;

namespace CardScan.Archive;

/// <summary>What a check of an archive found.</summary>
/// <param name="Faults">What is wrong, one line each; none where the archive is sound.</param>
/// <param name="Files">How many kept files were checked.</param>
/// <param name="Readings">How many readings were checked.</param>
/// <param name="Leftovers">Paths of files that belong to nothing: of a write that was broken off, in nobody's view. No fault.</param>
public sealed record ArchiveHealth(ValueList<string> Faults, int Files, int Readings, ValueList<string> Leftovers)
{
    /// <summary>True where nothing is wrong.</summary>
    public bool IsSound => Faults.Count == 0;
}

/// <summary>Checks everything: the database's pages, every reference, every file's hash, every text against its hash and its rows.</summary>
internal sealed class ArchiveCheck(SqliteConnection connection, FileStore files)
{
    /// <summary>SQLite's own check names every page; the first ones tell enough.</summary>
    private const int MostPageFaults = 20;

    private int _files;
    private int _readings;

    /// <summary>Runs the check.</summary>
    public ArchiveHealth Run()
    {
        List<string> faults = [.. connection.Query<string>($"PRAGMA integrity_check({MostPageFaults})").Where(line => line != "ok").Select(line => $"database: {line}")];
        // What a damaged database tells of its rows is not to be relied on.
        if (faults.Count == 0) faults.AddRange([.. ReferenceFaults(), .. PlanFaults(), .. ReadingFaults(), .. FileFaults()]);
        return new(faults.ToValueList(), _files, _readings, faults.Count == 0 ? Leftovers().ToValueList() : []);
    }

    /// <summary>Files of the store that no row knows, and those that are still under a temporary name.</summary>
    public IEnumerable<string> Leftovers()
    {
        HashSet<string> known = [.. connection.Query<(string Sha256, string Extension)>("SELECT sha256, extension FROM file").Select(file => files.PathOf(file.Sha256, file.Extension))];
        IEnumerable<string> incoming = Directory.Exists(files.Incoming) ? Directory.EnumerateFiles(files.Incoming) : [];
        return files.Standing().Select(file => file.Path).Where(path => !known.Contains(path)).Concat(incoming);
    }

    private IEnumerable<string> ReferenceFaults() =>
        connection.Query("PRAGMA foreign_key_check").Select(row => (string)$"row {row.rowid} of {row.table} refers to a row of {row.parent} that is not there");

    private IEnumerable<string> PlanFaults() => connection.Query<(long Id, string Sha256, byte[] Plan)>("SELECT id, plan_sha256, plan FROM card", buffered: false)
        .Where(card => !IsText(card.Plan, card.Sha256, json => !CardJson.ReadPlan(json).IsRefused))
        .Select(card => $"{CardEntry.NameOf(card.Id)}: its plan is not what was kept");

    private IEnumerable<string> ReadingFaults()
    {
        foreach ((long id, string sha256, byte[] packed) in connection.Query<(long, string, byte[])>("SELECT id, reading_sha256, reading FROM reading", buffered: false))
        {
            _readings++;
            Reading? reading = null;
            bool isText = IsText(packed, sha256, json =>
            {
                Outcome<Reading> read = CardJson.ReadReading(json);
                reading = read.IsRefused ? null : read.Value;
                return !read.IsRefused;
            });
            if (!isText || reading is null) yield return $"{ReadingEntry.NameOf(id)}: it is not what was kept";
            else if (!HasItsRows(id, reading)) yield return $"{ReadingEntry.NameOf(id)}: its cells, photos or recommendations in the tables are not those of the reading";
        }
    }

    private bool HasItsRows(long id, Reading reading) =>
        connection.QuerySingle<(int Cells, int Photos, int Recommendations)>(
            """
            SELECT (SELECT count(*) FROM cell WHERE reading_id = $id), (SELECT count(*) FROM photo WHERE reading_id = $id), (SELECT count(*) FROM recommendation WHERE reading_id = $id)
            """, new { id }) == (reading.Cells.Count, reading.Photos.Count, reading.Recommendations.Count);

    private IEnumerable<string> FileFaults()
    {
        foreach ((string sha256, string extension) in connection.Query<(string, string)>("SELECT sha256, extension FROM file", buffered: false))
        {
            _files++;
            string path = files.PathOf(sha256, extension);
            if (!File.Exists(path)) yield return $"{path} is missing";
            else if (!files.IsSound(sha256, extension)) yield return $"{path} is not what was kept: its content was changed or damaged";
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
