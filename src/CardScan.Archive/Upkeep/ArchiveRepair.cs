using CardScan.Language;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>Makes anew what follows from what is sound. Runs inside a transaction of its caller.</summary>
internal sealed class ArchiveRepair(Database database, FileStore files, TimeProvider clock)
{
    /// <summary>Repairs.</summary>
    /// <returns>What was done, one line each.</returns>
    public ValueList<string> Run() => [.. Rows(), .. Indexes(), .. Leftovers()];

    /// <summary>Cells and recommendations made anew from the readings' texts.</summary>
    private IEnumerable<string> Rows()
    {
        int made = 0;
        foreach (long id in database.Query("SELECT id FROM reading", row => row.Long("id")))
        {
            Outcome<Reading> reading = ReadingOf(id);
            if (reading.IsRefused) continue;
            ReadingRows.Delete(database, id);
            ReadingRows.Put(database, id, reading.Value);
            made++;
        }

        if (made > 0) yield return Voice.Say("archive.repair.rows", ("readings", made));
    }

    private IEnumerable<string> Indexes()
    {
        SearchIndex.Rebuild(database);
        database.MakeIndexesAnew();
        yield return Voice.Say("archive.repair.indexes");
    }

    private IEnumerable<string> Leftovers()
    {
        DateTime settled = (clock.GetUtcNow() - LeftParts.Settled).UtcDateTime;
        foreach (string path in new ArchiveCheck(database, files).Leftovers(settled))
        {
            files.Delete(path);
            yield return Voice.Say("archive.repair.leftover", ("file", path));
        }
    }

    private Outcome<Reading> ReadingOf(long id)
    {
        try
        {
            return CardJson.ReadReading(new ReadingFinder(database, files).Json(id));
        }
        catch (InvalidDataException)
        {
            return StorageFault.Damaged(files.Place);
        }
    }
}
