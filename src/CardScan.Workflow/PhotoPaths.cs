using CardScan.Model;

namespace CardScan.Workflow;

/// <summary>Photos that a person names by files, folders or patterns.</summary>
public static class PhotoPaths
{
    private static readonly string[] Extensions = [".jpg", ".jpeg", ".heic", ".heif", ".avif", ".png", ".webp", ".tif", ".tiff"];

    /// <summary>The photos' paths.</summary>
    /// <param name="names">Files as they are; a folder for the pictures in it, in the order of their names; a pattern (<c>photos/*.jpg</c>), where the shell leaves it as it is.</param>
    /// <returns>One path or more; or why a name stands for none.</returns>
    public static Outcome<ValueList<string>> Of(IEnumerable<string> names)
    {
        ArgumentNullException.ThrowIfNull(names);
        List<string> paths = [];
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
            paths.AddRange(found);
        }

        return paths.ToValueList();
    }

    private static bool IsPicture(string path) => Extensions.Contains(Path.GetExtension(path), StringComparer.OrdinalIgnoreCase);
}
