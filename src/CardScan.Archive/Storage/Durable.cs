using System.Runtime.InteropServices;
using CardScan.Language;

namespace CardScan.Archive;

/// <summary>Makes a rename survive a power cut, and takes files away that nobody needs.</summary>
internal static partial class Durable
{
    private const int ReadOnly = 0;

    /// <summary>Flushes a folder's list of names. Windows keeps its own journal of names and has no such call.</summary>
    /// <exception cref="IOException">The system could not do it.</exception>
    public static void FlushFolder(string folder)
    {
        if (OperatingSystem.IsWindows()) return;
        int handle = Open(folder, ReadOnly);
        if (handle < 0)
            throw new IOException(Voice.Say("archive.cannot-open", ("folder", folder), ("error", Marshal.GetLastPInvokeError())));
        try
        {
            // A file system that cannot flush a folder (EINVAL) has nothing to be flushed.
            const int invalid = 22;
            int error = Flush(handle) == 0 ? 0 : Marshal.GetLastPInvokeError();
            if (error is not (0 or invalid))
                throw new IOException(Voice.Say("archive.cannot-flush", ("folder", folder), ("error", error)));
        }
        finally
        {
            _ = Close(handle);
        }
    }

    /// <summary>Deletes a file if that is possible; what stays under a temporary name harms nothing.</summary>
    public static void Discard(string path) => IfPossible(() => File.Delete(path));

    /// <summary>Deletes a folder and what is in it, if that is possible.</summary>
    public static void DiscardFolder(string path) => IfPossible(() => Directory.Delete(path, recursive: true));

    private static void IfPossible(Action delete)
    {
        try
        {
            delete();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Swept later.
        }
    }

    [LibraryImport("libc", EntryPoint = "open", SetLastError = true, StringMarshalling = StringMarshalling.Utf8)]
    private static partial int Open(string path, int flags);

    [LibraryImport("libc", EntryPoint = "fsync", SetLastError = true)]
    private static partial int Flush(int handle);

    [LibraryImport("libc", EntryPoint = "close", SetLastError = true)]
    private static partial int Close(int handle);
}
