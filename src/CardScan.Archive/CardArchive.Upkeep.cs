using System.Data.Common;
using CardScan.Model;

namespace CardScan.Archive;

/// <content>Checking, repairing, and removing on clear words.</content>
public sealed partial class CardArchive
{
    /// <summary>Checks the database, every reference, the hash of every file and text. Reads everything; changes nothing.</summary>
    public Outcome<ArchiveHealth> Verify() => Guard<ArchiveHealth>(() => new ArchiveCheck(_database, _files).Run());

    /// <summary>
    /// Makes anew what follows from the readings (cells, recommendations, search words, indexes), and deletes what broken-off
    /// writes left.
    /// </summary>
    /// <returns>What was done, one line each. What is lost stays lost: files come back by importing a bundle that has them.</returns>
    public Outcome<ValueList<string>> Repair() =>
        Changed(() => _database.Write<ValueList<string>>(() =>
        {
            DeedBook.Write(DeedKind.Repaired);
            return new ArchiveRepair(_database, _files, _clock).Run();
        }));

    /// <summary>
    /// Puts everything into another archive that is empty, in a folder or in a workshop's database: all or nothing, and under the same
    /// names. This one stays as it is.
    /// </summary>
    /// <param name="to">The other archive.</param>
    public Outcome<CopiedArchive> CopyTo(CardArchive to)
    {
        ArgumentNullException.ThrowIfNull(to);
        return Guard(() => _database.Look(() => to.Changed(() =>
        {
            using Staging staging = new(to._files);
            return to._database.Write(() => new Transfer(_database, _files, to._database, to._files).Run(staging));
        })));
    }

    /// <summary>Lets the database grow no further, as a full disk would.</summary>
    internal void LimitForTests() => _database.Execute("PRAGMA max_page_count = 1");

    /// <summary>What removing would take away, or takes away.</summary>
    /// <param name="what">What to remove.</param>
    /// <param name="isMeant">True removes; false only tells.</param>
    public Outcome<PrunedPart> Prune(PruneRequest what, bool isMeant)
    {
        ArgumentNullException.ThrowIfNull(what);
        return Changed(() =>
        {
            Pruner pruner = new(_database, _files);
            if (!isMeant) return pruner.Told(what);
            Outcome<PrunedPart> removed = Removed(pruner, what);
            // The rows are gone for good before the files go: a file without a row is a leftover, a row without its file a loss.
            return removed.IsRefused ? removed : _database.Write<PrunedPart>(() =>
            {
                pruner.DeleteFiles(removed.Value.Files);
                return removed;
            });
        });
    }

    /// <summary>
    /// Removes the rows. A database notes what it changes before it changes it, which takes room: on a full disk the files go first.
    /// Broken off there, the rows stand without files that nobody wants, and pruning again removes them.
    /// </summary>
    private Outcome<PrunedPart> Removed(Pruner pruner, PruneRequest what)
    {
        try
        {
            return _database.Write<PrunedPart>(() =>
            {
                PrunedPart removed = pruner.Remove(what);
                DeedBook.Write(DeedKind.Pruned, string.Join(' ', removed.Cards.Concat(removed.Readings)));
                return removed;
            });
        }
        catch (DbException e) when (StorageFault.IsFull(e))
        {
            PrunedPart told = pruner.Told(what);
            foreach (string path in told.Files) _files.Discard(path);
            Outcome<PrunedPart> removed = _database.Write<PrunedPart>(() => pruner.Remove(what));
            return removed.IsRefused ? removed : told;
        }
    }
}
