using CardScan.Language;
using CardScan.Model;
using static CardScan.Language.Figures;

namespace CardScan.Workflow;

/// <summary>What a person's names stand for.</summary>
/// <param name="Paths">The photos, one or more.</param>
/// <param name="PassedOver">Pictures in folders that CardScan wrote itself: no photos, and nothing to complain of.</param>
public sealed record NamedPhotos(ValueList<string> Paths, ValueList<string> PassedOver);

/// <summary>Photos that a person names by files, folders or patterns.</summary>
public static class PhotoPaths
{
    private static readonly string[] Extensions = [".jpg", ".jpeg", ".heic", ".heif", ".avif", ".png", ".webp", ".tif", ".tiff", ".dng"];

    /// <summary>The texts of a picture stand before its pixels and are a few thousand bytes long.</summary>
    private const int TextsWithinBytes = 64 * 1024;

    /// <summary>The photos' paths.</summary>
    /// <param name="names">
    /// Files as they are; a folder for the pictures in it, in the order of their names; a pattern (<c>photos/*.jpg</c>), where
    /// the shell leaves it as it is.
    /// </param>
    /// <returns>The photos; or why a name stands for none.</returns>
    public static Outcome<NamedPhotos> Of(IEnumerable<string> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        List<string> paths = [], passedOver = [];
        foreach (string name in names)
        {
            bool isFolder = Directory.Exists(name);
            if (!isFolder && (File.Exists(name) || !name.AsSpan().ContainsAny('*', '?')))
            {
                paths.Add(name);
                continue;
            }

            string[] found = isFolder ? Pictures(name, "*") : Pictures(FolderOf(name), Path.GetFileName(name));
            if (found.Length == 0) return Refusal.OfInput(Codes.NoPhotos, ("kind", isFolder ? "folder" : "pattern"), ("name", name));
            ILookup<bool, string> byMaker = found.ToLookup(IsOwn);
            if (!byMaker.Contains(false)) return OnlyOwn(name, found);
            paths.AddRange(byMaker[false]);
            passedOver.AddRange(byMaker[true]);
        }

        return new NamedPhotos(paths.ToValueList(), passedOver.ToValueList());
    }

    private static string FolderOf(string pattern) => Path.GetDirectoryName(pattern) is { Length: > 0 } above ? above : ".";

    private static string[] Pictures(string folder, string pattern) =>
        Directory.Exists(folder) ? [.. Directory.EnumerateFiles(folder, pattern).Where(IsPicture).Order(StringComparer.Ordinal)] : [];

    /// <summary>The refusal of pictures that are no photos, whose sentences name them all.</summary>
    private static Refusal OnlyOwn(string folder, string[] found) => Refusal.OfInput(Codes.NotAPhoto) with
    {
        Seen = Voice.Say("workflow.only-own-pictures.seen",
            ("folder", folder), ("names", List(found.Select(path => Path.GetFileName(path))))),
        Remedy = Voice.Say("workflow.only-own-pictures.remedy"),
    };

    /// <summary>
    /// True for a picture that names CardScan as its maker: a preview, an annotated picture. What cannot be read is
    /// told when it is its turn.
    /// </summary>
    private static bool IsOwn(string path)
    {
        byte[] start = new byte[TextsWithinBytes];
        try
        {
            using FileStream file = File.OpenRead(path);
            return OwnPicture.IsMarked(start.AsSpan(0, file.ReadAtLeast(start, start.Length, throwOnEndOfStream: false)));
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            return false;
        }
    }

    /// <summary>True for a name that a photo would have.</summary>
    public static bool IsPicture(string path) => Extensions.Contains(Path.GetExtension(path), StringComparer.OrdinalIgnoreCase);
}
