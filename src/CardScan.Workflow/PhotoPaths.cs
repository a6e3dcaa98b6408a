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
            string? pattern = Directory.Exists(name) ? "*" : name.AsSpan().ContainsAny('*', '?') && !File.Exists(name) ? Path.GetFileName(name) : null;
            if (pattern is null)
            {
                paths.Add(name);
                continue;
            }

            string folder = pattern == "*" && Directory.Exists(name) ? name : Path.GetDirectoryName(name) is { Length: > 0 } above ? above : ".";
            string[] found = Directory.Exists(folder) ? [.. Directory.EnumerateFiles(folder, pattern).Where(IsPicture).Order(StringComparer.Ordinal)] : [];
            if (found.Length == 0) return Refusal.OfInput("no-photos", Directory.Exists(name) ? $"{name} is a folder without photos" : $"no photo has a name like {name}", "give the photos' files, or a folder with JPEG, HEIC, PNG, WebP or TIFF files in it");
            paths.AddRange(found);
        }

        return paths.ToValueList();
    }

    private static bool IsPicture(string path) => Extensions.Contains(Path.GetExtension(path), StringComparer.OrdinalIgnoreCase);
}
