using System.Text;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A file under a name that is free, or where the file that is there may be replaced: written whole or not at all.</summary>
internal static class FreshFile
{
    /// <summary>Writes a text, UTF-8.</summary>
    /// <returns>Why it was not written; null where it was.</returns>
    public static Refusal? Write(string path, string text) => Write(path, Encoding.UTF8.GetBytes(text));

    /// <summary>Writes bytes.</summary>
    /// <param name="path">The file.</param>
    /// <param name="bytes">The bytes.</param>
    /// <param name="mayReplace">Looks at a file that is there: true where the new one may take its place; null never replaces.</param>
    public static Refusal? Write(string path, byte[] bytes, Func<byte[], bool>? mayReplace = null) => Write(path, stream =>
    {
        stream.Write(bytes);
        return null;
    }, mayReplace);

    /// <summary>Writes what comes one after the other; where that is refused, there is no file.</summary>
    /// <param name="path">The file; one that is there is not replaced.</param>
    /// <param name="write">Writes it, or says why it cannot.</param>
    /// <param name="mayReplace">As above.</param>
    public static Refusal? Write(string path, Func<Stream, Refusal?> write, Func<byte[], bool>? mayReplace = null)
    {
        bool isReplaced = mayReplace is not null && IsThere(path, mayReplace);
        if (Path.Exists(path) && !isReplaced) return Refusal.OfInput(Codes.ExportExists, ("file", path));
        LeftParts.Sweep(Path.GetDirectoryName(Path.GetFullPath(path))!, Path.GetFileName(path));
        string temporary = $"{path}.{Guid.NewGuid():N}.part";
        try
        {
            using (FileStream stream = new(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                if (write(stream) is { } refusal) return refusal;
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, path, overwrite: isReplaced);
            return null;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException || DiskFault.IsOfWriting(e))
        {
            return DiskFault.Of(
                e, path, "export", () => Refusal.OfPlace(Codes.ExportUnwritable, ("file", path), ("why", e.Message.TrimEnd('.'))));
        }
        finally
        {
            if (File.Exists(temporary)) File.Delete(temporary);
        }
    }

    /// <summary>True where there is a file, and it is one of those that may be replaced.</summary>
    private static bool IsThere(string path, Func<byte[], bool> isOne)
    {
        try
        {
            return File.Exists(path) && isOne(File.ReadAllBytes(path));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false; // then it is not touched
        }
    }
}
