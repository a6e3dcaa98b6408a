using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>What a person's names stand for.</summary>
/// <param name="Paths">The photos, one or more.</param>
/// <param name="PassedOver">Pictures in folders that CardScan wrote itself: no photos, and nothing to complain of.</param>
public sealed record NamedPhotos(ValueList<string> Paths, ValueList<string> PassedOver);

/// <summary>Photos that a person names by files, folders or patterns.</summary>
public static class PhotoPaths
{
    private static readonly string[] Extensions = [".jpg", ".jpeg", ".heic", ".heif", ".avif", ".png", ".webp", ".tif", ".tiff"];

    /// <summary>The texts of a picture stand before its pixels and are a few thousand bytes long.</summary>
    private const int TextsWithinBytes = 64 * 1024;

    /// <summary>The photos' paths.</summary>
    /// <param name="names">Files as they are; a folder for the pictures in it, in the order of their names; a pattern (<c>photos/*.jpg</c>), where the shell leaves it as it is.</param>
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

            (string folder, string pattern) = isFolder ? (name, "*") : (Path.GetDirectoryName(name) is { Length: > 0 } above ? above : ".", Path.GetFileName(name));
            string[] found = Directory.Exists(folder) ? [.. Directory.EnumerateFiles(folder, pattern).Where(IsPicture).Order(StringComparer.Ordinal)] : [];
            if (found.Length == 0) return Refusal.OfInput("no-photos", isFolder ? $"{name} is a folder without photos" : $"no photo has a name like {name}", "give the photos' files, or a folder with JPEG, HEIC, PNG, WebP or TIFF files in it");
            ILookup<bool, string> byMaker = found.ToLookup(IsOwn);
            if (!byMaker.Contains(false))
                return Refusal.OfInput("not-a-photo", $"{name} holds no photo, only what CardScan drew itself: {string.Join(", ", found.Select(path => Path.GetFileName(path)))}", "burn the card, photograph it, and give the photo");
            paths.AddRange(byMaker[false]);
            passedOver.AddRange(byMaker[true]);
        }

        return new NamedPhotos(paths.ToValueList(), passedOver.ToValueList());
    }

    /// <summary>True for a picture that names CardScan as its maker: a preview, an annotated picture. What cannot be read is told when it is its turn.</summary>
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

    private static bool IsPicture(string path) => Extensions.Contains(Path.GetExtension(path), StringComparer.OrdinalIgnoreCase);
}
