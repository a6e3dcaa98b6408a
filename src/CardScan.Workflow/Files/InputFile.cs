using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Files that a person names.</summary>
internal static class InputFile
{
    /// <summary>No plan or reading is larger: a thousand cells make less than a megabyte.</summary>
    private const long MostJsonBytes = 50 * 1000 * 1000;

    /// <summary>No photo that is read is larger; the decoder looks closer.</summary>
    private const long MostPhotoBytes = 101L * 1000 * 1000;

    /// <summary>Reads a plan's bytes, or those of any other small file.</summary>
    /// <param name="path">Path of the file.</param>
    /// <param name="what">What it is, in messages.</param>
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

    private static Outcome<byte[]> Read(string path, string what, long mostBytes)
    {
        if (string.IsNullOrWhiteSpace(path)) return Refusal.OfInput("file-missing", $"the name of the {what} is empty", $"give the {what}'s file");
        if (Directory.Exists(path)) return Refusal.OfInput("file-is-folder", $"{path} is a folder", $"give the {what}'s file");
        FileInfo file = new(path);
        if (!file.Exists) return Refusal.OfInput("file-missing", $"{path} is not there", $"check the name of the {what} and its folder");
        if (file.Length > mostBytes) return Refusal.OfInput("file-too-large", $"{path} has {file.Length / 1e6:F0} MB", $"give a {what} of at most {mostBytes / 1e6:F0} MB");
        try
        {
            return File.ReadAllBytes(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return Refusal.OfPlace("file-unreadable", $"{path} cannot be read ({e.Message.TrimEnd('.')})", "check that you may read it and that no other program holds it");
        }
    }
}
