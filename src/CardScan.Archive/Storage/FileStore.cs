using System.Security.Cryptography;
using CardScan.Model;

namespace CardScan.Archive;

/// <summary>
/// The files of an archive, named after their content: <c>files/ab/abcd….jpg</c>. A name never stands for anything but that content, so
/// a file is written once and never changed. It stands in a folder, or in a bucket of an object store.
/// </summary>
internal abstract class FileStore
{
    /// <summary>What the kept files stand under.</summary>
    protected const string FilesPart = "files";

    /// <summary>What tells whose files they are.</summary>
    protected const string MarkPart = "archive-id";

    /// <summary>Where it is, for people; the paths of its files begin with it.</summary>
    public abstract string Place { get; }

    /// <summary>The archive's folder; null for what is no folder.</summary>
    public abstract string? Folder { get; }

    /// <summary>Folder of files that wait to be placed; null where they wait in a temporary one.</summary>
    public abstract string? Incoming { get; }

    /// <summary>The photos that wait to be read.</summary>
    public abstract WaitingPhotos Waiting { get; }

    /// <summary>True where files stand in it, whosever they are.</summary>
    public abstract bool HasFiles { get; }

    /// <summary>The id of the archive whose files they are; null where none is told.</summary>
    public abstract string? Mark { get; }

    /// <summary>Tells whose files they are.</summary>
    /// <param name="id">The archive's id.</param>
    public abstract void PutMark(string id);

    /// <summary>The path of a kept file, for people and for <see cref="Delete"/>.</summary>
    public abstract string PathOf(string sha256, string extension);

    /// <summary>Writes bytes into a file that is to wait.</summary>
    public virtual void Put(FileStream stream, ReadOnlySpan<byte> bytes) => stream.Write(bytes);

    /// <summary>Brings a waiting file as near as it can come without others waiting for it.</summary>
    public abstract void Send(StagedFile file);

    /// <summary>
    /// Keeps a waiting file for good; a sound one that is there already stays. Inside the transaction that keeps its row: nobody
    /// deletes files meanwhile.
    /// </summary>
    /// <returns>Its size, bytes.</returns>
    public abstract long Keep(StagedFile file);

    /// <summary>Opens a kept file; null where it is not there.</summary>
    public abstract Stream? Open(string sha256, string extension);

    /// <summary>True where a file has the content that its name promises; null where it is not there.</summary>
    public bool? IsSound(string sha256, string extension)
    {
        using Stream? stream = Open(sha256, extension);
        return stream is null ? null : Convert.ToHexStringLower(SHA256.HashData(stream)) == sha256;
    }

    /// <summary>The bytes at a path that this store gave; null where nothing is there.</summary>
    public abstract byte[]? Bytes(string path);

    /// <summary>The files that stand in the store, with what their names say.</summary>
    public abstract IEnumerable<(string Sha256, string Extension, string Path)> Standing();

    /// <summary>Paths of files that are not whole, or were never placed.</summary>
    /// <param name="settled">Only those that nobody has written to since; null for all.</param>
    public virtual IEnumerable<string> Unplaced(DateTime? settled) => [];

    /// <summary>Deletes a file.</summary>
    public abstract void Delete(string path);

    /// <summary>Deletes a file if that is possible; what stays harms nothing, and is swept later.</summary>
    public void Discard(string path)
    {
        try
        {
            Delete(path);
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
