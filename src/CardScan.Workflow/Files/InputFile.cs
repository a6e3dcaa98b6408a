using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>Files that a person names.</summary>
internal static class InputFile
{
    /// <summary>No plan or reading is larger: a thousand cells make less than a megabyte.</summary>
    private const long MostJsonBytes = 50 * 1000 * 1000;

    /// <summary>No photo that is read is larger; the decoder looks closer.</summary>
    internal const long MostPhotoBytes = 101L * 1000 * 1000;

    /// <summary>Reads a plan's bytes, or those of any other small file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="what">What it is: a branch of the message "workflow.file".</param>
    public static Outcome<byte[]> ReadBytes(string path, string what) => Read(path, what, MostJsonBytes);

    /// <summary>Reads a reading.</summary>
    public static Outcome<Reading> ReadReading(string path)
    {
        Outcome<byte[]> bytes = ReadBytes(path, "reading");
        if (bytes.IsRefused) return bytes.Refusal!;
        Outcome<Reading> reading = CardJson.ReadReading(bytes.Value);
        return reading.IsRefused ? reading.Refusal!.In(path) : reading;
    }

    /// <summary>Reads a photo's bytes.</summary>
    public static Outcome<byte[]> ReadPhoto(string path) => Read(path, "photo", MostPhotoBytes);

    /// <summary>Why a photo's bytes cannot be read; null where they can.</summary>
    public static Refusal? ObstacleToPhoto(string path) => Read(path, "photo", MostPhotoBytes, at =>
    {
        using FileStream opened = File.OpenRead(at);
        return true;
    }).Refusal;

    private static Outcome<byte[]> Read(string path, string kind, long mostBytes) => Read(path, kind, mostBytes, File.ReadAllBytes);

    private static Outcome<T> Read<T>(string path, string kind, long mostBytes, Func<string, T> read)
    {
        (string, Figure) what = ("what", new Phrase("workflow.file", ("kind", kind)));
        if (string.IsNullOrWhiteSpace(path)) return Refusal.OfInput(Codes.FileMissing, ("kind", "unnamed"), what);
        if (Directory.Exists(path)) return Refusal.OfInput(Codes.FileIsFolder, ("path", path), what);
        FileInfo file = new(path);
        if (!file.Exists) return Refusal.OfInput(Codes.FileMissing, ("path", path), what);
        if (file.Length > mostBytes)
        {
            return Refusal.OfInput(Codes.FileTooLarge,
                ("path", path), ("size", In(Unit.Bytes, file.Length)), ("most", In(Unit.Bytes, mostBytes)), what);
        }

        try
        {
            return read(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Refusal.OfPlace(Codes.FileUnreadable, ("path", path), ("cause", e.Message.TrimEnd('.')));
        }
    }
}
