using System.Text.RegularExpressions;

namespace CardScan.Model;

/// <summary>Hidden halves of files that a killed run left beside their places: <c>NAME.32 hexadecimal digits.part</c>.</summary>
public static class LeftParts
{
    /// <summary>One that is younger may still be written by another process.</summary>
    public static TimeSpan Settled { get; } = TimeSpan.FromHours(1);

    /// <summary>Deletes those of one file, with or without the dot that hides them; what cannot be deleted stays.</summary>
    /// <param name="folder">The folder; it need not be there.</param>
    /// <param name="name">Name of the file, without folders.</param>
    public static void Sweep(string folder, string name)
    {
        if (!Directory.Exists(folder)) return;
        Regex part = new($@"^\.?{Regex.Escape(name)}\.[0-9a-f]{{32}}\.part$", RegexOptions.CultureInvariant | RegexOptions.NonBacktracking);
        EnumerationOptions hiddenToo = new() { AttributesToSkip = FileAttributes.None };
        try
        {
            foreach (string path in Directory.EnumerateFiles(folder, "*.part", hiddenToo)
                .Where(path => part.IsMatch(Path.GetFileName(path)) && DateTime.UtcNow - File.GetLastWriteTimeUtc(path) > Settled))
                File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // Whoever writes here next tells why that cannot be done.
        }
    }
}
