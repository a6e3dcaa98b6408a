using System.Text;
using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A file under a name that is free: written whole or not at all.</summary>
internal static class FreshFile
{
    /// <summary>Writes a text, UTF-8.</summary>
    /// <returns>Why it was not written; null where it was.</returns>
    public static Refusal? Write(string path, string text) => Write(path, Encoding.UTF8.GetBytes(text));

    /// <summary>Writes bytes.</summary>
    public static Refusal? Write(string path, byte[] bytes) => Write(path, stream =>
    {
        stream.Write(bytes);
        return null;
    });

    /// <summary>Writes what comes one after the other; where that is refused, there is no file.</summary>
    /// <param name="path">The file; one that is there is not replaced.</param>
    /// <param name="write">Writes it, or says why it cannot.</param>
    public static Refusal? Write(string path, Func<Stream, Refusal?> write)
    {
        if (Path.Exists(path)) return Refusal.OfInput(Codes.ExportExists, ("file", path));
        LeftParts.Sweep(Path.GetDirectoryName(Path.GetFullPath(path))!, Path.GetFileName(path));
        string temporary = $"{path}.{Guid.NewGuid():N}.part";
        try
        {
            using (FileStream stream = new(temporary, FileMode.CreateNew, FileAccess.Write, FileShare.None))
            {
                if (write(stream) is { } refusal) return refusal;
                stream.Flush(flushToDisk: true);
            }

            File.Move(temporary, path);
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
}
