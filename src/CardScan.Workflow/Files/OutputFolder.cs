using System.Text;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A file to be written.</summary>
/// <param name="Name">Name, in a folder of its own where it stands behind one: "folder/name".</param>
/// <param name="Bytes">Content.</param>
internal sealed record NewFile(string Name, byte[] Bytes)
{
    /// <summary>A text, as UTF-8.</summary>
    internal static NewFile OfText(string name, string text) => new(name, Encoding.UTF8.GetBytes(text));
}

/// <summary>Writes files that belong together.</summary>
internal static class OutputFolder
{
    /// <summary>Stands for a folder named after the card's number.</summary>
    internal const string OfAnyCard = "card-*";

    /// <summary>A folder with the card's number in its name, where it stands for one.</summary>
    internal static string OfCard(string folder, int number) => folder.Replace(OfAnyCard, $"card-{number}", StringComparison.Ordinal);

    /// <summary>What speaks against a folder's name, or null.</summary>
    internal static Refusal? NameFault(string folder)
    {
        if (string.IsNullOrWhiteSpace(folder)) return Refusal.OfInput(Codes.OutEmpty);
        return File.Exists(folder) ? Refusal.OfInput(Codes.OutIsFile, ("folder", folder)) : null;
    }

    /// <summary>Writes every file under a temporary name beside its place, then swaps them all for the old ones.</summary>
    /// <param name="folder">Folder; made where it is missing.</param>
    /// <param name="files">The files.</param>
    /// <param name="obsolete">Names of old files that no new one replaces; they go when the new ones are there.</param>
    /// <param name="move">Renames a file to a name that is free; for tests.</param>
    /// <returns>The files' paths, or why they cannot be written; what was in the folder before is then still there, whole.</returns>
    internal static Outcome<ValueList<string>> Write(
        string folder, IEnumerable<NewFile> files, IEnumerable<string>? obsolete = null, Action<string, string>? move = null)
    {
        List<string> made = [];
        List<(string Temporary, string Place)> written = [];
        try
        {
            foreach (NewFile file in files)
            {
                string place = Path.Combine(folder, file.Name), parent = Path.GetDirectoryName(place)!;
                if (!Directory.Exists(parent)) made.Add(parent);
                Directory.CreateDirectory(parent);
                LeftParts.Sweep(parent, Path.GetFileName(place));
                string temporary = Path.Combine(parent, $".{Path.GetFileName(place)}.{Guid.NewGuid():N}.part");
                written.Add((temporary, place));
                WriteThrough(temporary, file.Bytes);
            }

            if (written.Select(file => file.Place).FirstOrDefault(Directory.Exists) is { } blocked)
                throw new IOException(Voice.Say("workflow.is-folder", ("path", blocked)));
            new FileSwap(move ?? File.Move).Run(written, (obsolete ?? []).Select(name => Path.Combine(folder, name)));
            return written.Select(file => file.Place).ToValueList();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return DiskFault.Of(
                e, folder, "output", () => Refusal.OfPlace(Codes.FolderUnwritable, ("folder", folder), ("cause", e.Message.TrimEnd('.'))));
        }
        finally
        {
            CleanUp(made, written.Select(file => file.Temporary));
        }
    }

    private static void WriteThrough(string path, byte[] bytes)
    {
        using FileStream stream = new(path, FileMode.CreateNew, FileAccess.Write, FileShare.None);
        stream.Write(bytes);
        // A renamed file whose content is still in a cache would be half-written after a power cut.
        stream.Flush(flushToDisk: true);
    }

    private static void CleanUp(List<string> made, IEnumerable<string> temporaries)
    {
        try
        {
            foreach (string path in temporaries.Where(File.Exists)) File.Delete(path);
            foreach (string folder in made.AsEnumerable().Reverse().Where(Directory.Exists))
            {
                if (!Directory.EnumerateFileSystemEntries(folder).Any()) Directory.Delete(folder);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The refusal already says that this folder cannot be written.
        }
    }
}
