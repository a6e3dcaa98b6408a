using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// Files named after their content: <c>files/ab/abcd….jpg</c>. A name never stands for anything but that content, so a
/// file is written once and never changed. It is written and flushed in the hidden folder <c>.incoming</c>, then renamed.
/// </summary>
/// <param name="folder">The archive's folder.</param>
/// <param name="write">Writes the bytes into the new file; for tests of a disk that is full.</param>
internal sealed class FileStore(string folder, Action<FileStream, ReadOnlySpan<byte>>? write = null)
{
    /// <summary>The archive's folder.</summary>
    public string Folder => folder;

    /// <summary>Folder of the kept files.</summary>
    public string Files { get; } = Path.Combine(folder, "files");

    /// <summary>Folder of files that are being written.</summary>
    public string Incoming { get; } = Path.Combine(folder, ".incoming");

    /// <summary>Where a kept file stands.</summary>
    public string PathOf(string sha256, string extension) => Path.Combine(Files, sha256[..2], $"{sha256}.{extension}");

    /// <summary>Writes bytes into a new file.</summary>
    public void Put(FileStream stream, ReadOnlySpan<byte> bytes)
    {
        if (write is null) stream.Write(bytes);
        else write(stream, bytes);
    }

    /// <summary>Renames a staged file to its place and makes the name durable; a sound file that is there already stays.</summary>
    public void Place(StagedFile file)
    {
        string place = PathOf(file.Sha256, file.Extension), home = Path.GetDirectoryName(place)!;
        if (IsSound(file.Sha256, file.Extension)) return;
        bool isNew = !Directory.Exists(home);
        Directory.CreateDirectory(home);
        File.Move(file.Temporary, place, overwrite: true);
        Durable.FlushFolder(home);
        if (!isNew) return;
        Durable.FlushFolder(Files);
        Durable.FlushFolder(folder);
    }

    /// <summary>True where the file is there with the content that its name promises.</summary>
    public bool IsSound(string sha256, string extension)
    {
        string path = PathOf(sha256, extension);
        if (!File.Exists(path)) return false;
        using FileStream stream = File.OpenRead(path);
        return Convert.ToHexStringLower(System.Security.Cryptography.SHA256.HashData(stream)) == sha256;
    }

    /// <summary>The files that stand in the store, with what their names say.</summary>
    public IEnumerable<(string Sha256, string Extension, string Path)> Standing() => !Directory.Exists(Files)
        ? []
        : Directory.EnumerateFiles(Files, "*", SearchOption.AllDirectories)
            .Select(path => (Path.GetFileNameWithoutExtension(path), Path.GetExtension(path).TrimStart('.'), path));

    /// <summary>Deletes a file if that is possible; what stays under a temporary name harms nothing.</summary>
    public static void Discard(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Swept later.
        }
    }

    /// <summary>The extension that a picture's first bytes call for, so that other programs open the file.</summary>
    public static string PictureExtension(ReadOnlySpan<byte> bytes) =>
        bytes.StartsWith((ReadOnlySpan<byte>)[0xFF, 0xD8, 0xFF]) ? "jpg"
        : bytes.StartsWith((ReadOnlySpan<byte>)[0x89, (byte)'P', (byte)'N', (byte)'G']) ? "png"
        : DngMark.IsIn(bytes) ? "dng"
        : bytes.StartsWith("II*\0"u8) || bytes.StartsWith("MM\0*"u8) ? "tif"
        : bytes.Length < 12 ? "bin"
        : bytes.StartsWith("RIFF"u8) && bytes[8..].StartsWith("WEBP"u8) ? "webp"
        : bytes[4..].StartsWith("ftypavif"u8) ? "avif"
        : bytes[4..].StartsWith("ftyp"u8) ? "heic"
        : "bin";
}
