using CardScan.Language;
using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>A photo from standard input, as a file for as long as it is read.</summary>
/// <param name="open">Opens what is piped in; null where nothing is.</param>
public sealed class PipedPhoto(Func<Stream?> open) : IDisposable
{
    /// <summary>Stands for standard input where a photo is named.</summary>
    private const string Dash = "-";

    private DirectoryInfo? _folder;

    /// <summary>Names of photos, with that of a file in the place of the dash.</summary>
    /// <param name="names">What was given.</param>
    /// <returns>The names; or why nothing could be read.</returns>
    public Outcome<string[]> InPlace(string[] names)
    {
        if (!names.Contains(Dash)) return names;
        Outcome<string> file = Read();
        return file.IsRefused ? file.Refusal! : names.Select(name => name == Dash ? file.Value : name).ToArray();
    }

    /// <summary>Removes the file.</summary>
    public void Dispose() => _folder?.Delete(recursive: true);

    private Outcome<string> Read()
    {
        using Stream? piped = open();
        byte[] bytes = piped is null ? [] : AllOf(piped);
        if (bytes.Length == 0) return Refusal.OfInput(Codes.PipeEmpty);
        _folder = Directory.CreateTempSubdirectory("cardscan-");
        // The same photo has the same name whenever it is piped in.
        string path = Path.Combine(_folder.FullName, $"piped-{CardJson.Sha256(bytes)[..8]}{EndingOf(bytes)}");
        File.WriteAllBytes(path, bytes);
        return path;
    }

    /// <summary>As much as a photo may have and a little more, so that what is larger is refused like any other file.</summary>
    private static byte[] AllOf(Stream piped)
    {
        using MemoryStream bytes = new();
        byte[] part = new byte[1 << 16];
        for (int read; bytes.Length <= InputFile.MostPhotoBytes && (read = piped.Read(part)) > 0;) bytes.Write(part, 0, read);
        return bytes.ToArray();
    }

    /// <summary>The usual ending of a picture's format, by its first bytes; that of most photos where they tell nothing.</summary>
    private static string EndingOf(ReadOnlySpan<byte> bytes) => bytes switch
    {
        [0x89, (byte)'P', (byte)'N', (byte)'G', ..] => ".png",
        [(byte)'R', (byte)'I', (byte)'F', (byte)'F', ..] => ".webp",
        [(byte)'I', (byte)'I', ..] or [(byte)'M', (byte)'M', ..] => DngMark.IsIn(bytes) ? ".dng" : ".tif",
        [_, _, _, _, (byte)'f', (byte)'t', (byte)'y', (byte)'p', (byte)'a', (byte)'v', ..] => ".avif",
        [_, _, _, _, (byte)'f', (byte)'t', (byte)'y', (byte)'p', ..] => ".heic",
        _ => ".jpg",
    };
}
