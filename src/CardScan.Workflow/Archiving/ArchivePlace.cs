using CardScan.Archive;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Which archive is used.</summary>
/// <param name="Folder">Its folder.</param>
/// <param name="Clock">Tells when something is kept.</param>
public sealed record ArchivePlace(string Folder, TimeProvider Clock)
{
    /// <summary>Does something with the archive.</summary>
    /// <param name="work">What to do.</param>
    /// <param name="mayMake">True to make the archive where there is none.</param>
    public Outcome<T> Use<T>(Func<CardArchive, Outcome<T>> work, bool mayMake = false)
    {
        ArgumentNullException.ThrowIfNull(work);
        Outcome<CardArchive> opened = CardArchive.Open(Folder, Clock, mayMake);
        if (opened.IsRefused) return opened.Refusal!;
        using CardArchive archive = opened.Value;
        return work(archive);
    }
}
