using CardScan.Language;

namespace CardScan.Workflow;

/// <summary>
/// Puts new files in the places of old ones, all or none: the old ones are moved aside first, and moved back when
/// anything fails.
/// </summary>
/// <param name="move">Renames a file to a name that is free; throws where it cannot.</param>
internal sealed class FileSwap(Action<string, string> move)
{
    private readonly List<(string Place, string Aside)> _aside = [];
    private readonly List<string> _placed = [];

    /// <summary>Renames every file; when it returns, the old ones are gone.</summary>
    /// <param name="files">Where each new file is and where it belongs.</param>
    /// <param name="obsolete">Old files that no new one replaces.</param>
    /// <exception cref="IOException">Something could not be renamed; the old files are in their places again.</exception>
    /// <exception cref="UnauthorizedAccessException">Likewise.</exception>
    internal void Run(IReadOnlyCollection<(string Temporary, string Place)> files, IEnumerable<string> obsolete)
    {
        try
        {
            foreach (string place in files.Select(file => file.Place).Concat(obsolete).Where(File.Exists)) SetAside(place);
            foreach ((string temporary, string place) in files)
            {
                move(temporary, place);
                _placed.Add(place);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            if (PutBack() is not { } lost) throw;
            throw new IOException(Voice.Say("workflow.kept-aside",
                ("cause", e.Message.TrimEnd('.')), ("place", lost.Place), ("aside", Path.GetFileName(lost.Aside))), e);
        }

        foreach ((_, string aside) in _aside) DeleteIfPossible(aside);
    }

    private void SetAside(string place)
    {
        string aside = Path.Combine(Path.GetDirectoryName(place)!, $".{Path.GetFileName(place)}.{Guid.NewGuid():N}.old");
        move(place, aside);
        _aside.Add((place, aside));
    }

    /// <summary>Restores what was there; the first old file for which that failed too, or null.</summary>
    private (string Place, string Aside)? PutBack()
    {
        foreach (string place in _placed) DeleteIfPossible(place);
        (string Place, string Aside)? lost = null;
        foreach ((string place, string aside) in _aside)
        {
            try
            {
                move(aside, place);
            }
            catch (Exception e) when (e is IOException or UnauthorizedAccessException)
            {
                lost ??= (place, aside);
            }
        }

        return lost;
    }

    private static void DeleteIfPossible(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What stays under a temporary name harms nothing; what stays in a place fails the move back, which is told.
        }
    }
}
